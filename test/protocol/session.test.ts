import { expect, test } from "vitest";
import { startServer } from "../support/client.ts";
test("starts", async () => {
  const client = await startServer();
  expect(client.initialized.serverInfo?.name).toBe("tappet");
  await client.stop();
  expect(client.alive()).toBe(false);
});
