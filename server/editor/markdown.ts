// Text of a file made safe to stand in markdown. Knows no meaning.

/** Text of a file stays text in markdown: no emphasis, link, image, table, entity, heading or list comes of it, and no address becomes a link. */
export function escapeMarkdown(text: string): string {
  return text
    .replace(/\s+/g, " ")
    .replace(/[\\`*_{}[\]#|<>~&]/g, "\\$&")
    .replace(/:\/\//g, "\\://")
    .replace(/^( ?\d+)([.)] )/, "$1\\$2")
    .replace(/^( ?)([-+=])/, "$1\\$2");
}
