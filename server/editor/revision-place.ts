// How a place in an earlier state of a file is told from the same place now. Small and by itself, because the client reads it too.

/** Begins the query of the file's URI; the revision follows. The client knows where it shows such files. */
export const AT_REVISION = "tappet-at=";
