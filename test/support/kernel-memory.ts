/**
 * Watches the kernel's WebAssembly memory. Call before anything loads the kernel;
 * `bytes()` answers how much memory the modules instantiated since then hold together.
 */
export function watchKernelMemory(): { bytes(): number } {
  const memories = new Set<WebAssembly.Memory>();
  const keep = (instance: WebAssembly.Instance) => {
    for (const value of Object.values(instance.exports)) {
      if (value instanceof WebAssembly.Memory) memories.add(value);
    }
  };
  const original = WebAssembly.instantiate;
  const watched = async (source: BufferSource | WebAssembly.Module, imports?: WebAssembly.Imports) => {
    if (source instanceof WebAssembly.Module) {
      const instance = await original(source, imports);
      keep(instance);
      return instance;
    }
    const both = await original(source, imports);
    keep(both.instance);
    return both;
  };
  WebAssembly.instantiate = watched as typeof WebAssembly.instantiate;
  return {
    bytes() {
      if (memories.size === 0)
        throw new Error('no WebAssembly memory was seen: watch before the kernel loads');
      return [...memories].reduce((sum, memory) => sum + memory.buffer.byteLength, 0);
    },
  };
}
