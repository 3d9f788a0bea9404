
// Loads the parts of the app when they are first asked for. The build puts this at the end of the app's
// script and fills in which files each part is made of.

// A file is a wasm module; the modules that its part shares with others lie in sections of it, each
// behind its number in four bytes. One that lies in several files is started once: a second start would
// put its data back to what it was in the beginning.
const partFiles = /** @type {Record<string, string[]>} */ ({});

/** @type {Map<string, Promise<unknown>>} What was asked for and has not failed. */
const partPromises = new Map();

/** @type {Set<string>} What has failed. */
const partFailures = new Set();

/**
 * Does something once; what has failed may be asked for again.
 * @param {string} key
 * @param {() => Promise<unknown>} begin
 */
function partOnce(key, begin) {
  const known = partPromises.get(key);
  if (known) return known;
  const promise = begin();
  partPromises.set(key, promise);
  promise.catch(() => {
    partPromises.delete(key);
    partFailures.add(key);
  });
  return promise;
}

/** @param {string} file */
async function loadPartFile(file) {
  const imports = { __wasm_split: initSync() };
  // What came cut short may be stored as if it were whole.
  const cache = partFailures.has(file) ? 'reload' : 'default';
  const url = new URL(`./${file}`, import.meta.url);
  const module = await WebAssembly.compileStreaming(fetch(url, { cache }));
  const shared = WebAssembly.Module.customSections(module, 'shared').map((section) => {
    const number = new DataView(section).getUint32(0, true);
    return partOnce(`${number}`, () => WebAssembly.instantiate(new Uint8Array(section, 4), imports));
  });
  await Promise.all([...shared, WebAssembly.instantiate(module, imports)]);
}

// What the wasm asks for: a function for each part, which calls it back when the part is here or cannot
// be had.
const parts = Object.fromEntries(
  Object.entries(partFiles).map(([part, files]) => [
    `__wasm_split_load_${part}`,
    /** @type {(callback: number, data: number) => Promise<void>} */
    async (callback, data) => {
      let loaded = false;
      try {
        await Promise.all(files.map((file) => partOnce(file, () => loadPartFile(file))));
        loaded = true;
      } catch (error) {
        console.error(error);
      }
      initSync().__indirect_function_table.get(callback)(data, loaded);
    },
  ]),
);
