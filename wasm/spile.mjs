// Asks the core in the browser (or in node) as wasm/surface.h says. `makeModule` is the default export of spile_core.mjs.

/** @type {typeof import("./spile.mjs").loadCore} */
export async function loadCore(makeModule, options = {}) {
  const module = await makeModule(options);
  const ask = (name, question = {}) => {
    const text = JSON.stringify({ do: name, ...question });
    const bytes = module.lengthBytesUTF8(text);
    const memory = module._spile_memory(bytes + 1);
    try {
      module.stringToUTF8(text, memory, bytes + 1);
      return JSON.parse(module.UTF8ToString(module._spile_answer(memory, bytes)));
    } finally {
      module._spile_free(memory);
    }
  };
  return { ask };
}
