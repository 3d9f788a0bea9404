// Loads the parts of the app when they are first asked for. The build puts this at the end of the app's
// script and fills in which files each part is made of.

// A file is a wasm module; two of them may have some of their functions in common.
const partFiles = /** @type {Record<string, string[]>} */ ({});

/** @type {Map<string, Promise<unknown>>} Files that were asked for and have not failed. */
const partPromises = new Map();

/** @type {Set<string>} Files that have failed. */
const partFailures = new Set();

/**
 * Loads a file once; one that has failed may be asked for again.
 * @param {string} file
 */
function loadPartFile(file) {
  const known = partPromises.get(file);
  if (known) return known;
  // What came cut short may be stored as if it were whole.
  const cache = partFailures.has(file) ? 'reload' : 'default';
  const url = new URL(`./${file}`, import.meta.url);
  const promise = WebAssembly.instantiateStreaming(fetch(url, { cache }), { __wasm_split: initSync() });
  partPromises.set(file, promise);
  promise.catch(() => {
    partPromises.delete(file);
    partFailures.add(file);
  });
  return promise;
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
        await Promise.all(files.map(loadPartFile));
        loaded = true;
      } catch (error) {
        console.error(error);
      }
      initSync().__indirect_function_table.get(callback)(data, loaded);
    },
  ]),
);
