/** Where bytes come from: the one platform hook of the readers. A file on disk, a Blob or plain memory. */
export interface ByteSource {
  /** File name, for messages and for naming parts. */
  readonly name: string;
  /** Bytes that are really there. */
  readonly byteLength: number;
  /** The bytes from the start, in chunks of any size that stay as they are; each call starts anew. */
  chunks(): AsyncIterable<Uint8Array>;
}

/** A source over bytes already in memory. */
export function memorySource(name: string, bytes: Uint8Array): ByteSource {
  return {
    name,
    byteLength: bytes.byteLength,
    async *chunks() {
      if (bytes.byteLength > 0) yield bytes;
    },
  };
}

/** A source over a browser File or Blob; nothing is read before it is asked for. */
export function blobSource(name: string, blob: Blob): ByteSource {
  return {
    name,
    byteLength: blob.size,
    async *chunks() {
      const reader = blob.stream().getReader();
      for (;;) {
        const { done, value } = await reader.read();
        if (done) return;
        yield value;
      }
    },
  };
}
