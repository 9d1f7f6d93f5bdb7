// Prints: what tells one stretch of bytes or text from another in a few characters. Knows nothing of what is printed.
import { sha256 } from "@noble/hashes/sha2.js";
import { bytesToHex, utf8ToBytes } from "@noble/hashes/utils.js";

/** Hexadecimal figures of a print: 48 bits, so that two by chance alike are not met with, and one line holds it. */
export const PRINT_LENGTH = 12;

/** The beginning of the SHA-256 digest of bytes (FIPS 180-4), in hexadecimal. */
export function printOfBytes(bytes: Uint8Array): string {
  return bytesToHex(sha256(bytes)).slice(0, PRINT_LENGTH);
}

/** As `printOfBytes`, of a text's UTF-8 bytes. */
export function printOfText(text: string): string {
  return printOfBytes(utf8ToBytes(text));
}
