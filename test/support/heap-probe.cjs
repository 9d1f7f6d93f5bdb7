// Loaded before a server that is watched: says what the heap still holds once it has been collected. The server knows nothing of it.
process.on("message", ({ snapshot }) => {
  // What a first collection frees only by running finalizers goes with the second.
  globalThis.gc();
  setImmediate(() => {
    globalThis.gc();
    if (snapshot) require("node:v8").writeHeapSnapshot(snapshot);
    process.send({ heap: process.memoryUsage().heapUsed });
  });
});
// A listener keeps the channel, and the channel the process; the server ends when its client does.
process.channel.unref();
