// Compiles the app's wasm, and loads its parts when they are first asked for. The build puts this at the end of
// the app's script and fills in which files each part is made of.

// How long compiling may take of what the worker has stored, in milliseconds: fifty times what a slow phone needs.
const COMPILED_IN = 6_000;

/**
 * Compiles a file of wasm off the page's thread, and in that thread where this does not finish: Firefox has been seen
 * (a busy machine, two cores) with processes in which no compilation finished any more, not even of eight bytes, while
 * one in the page's own thread took a tenth of a second. Only where a worker answers: there no slow line is the reason.
 * @param {URL} url
 * @param {RequestCache} cache
 * @returns {Promise<WebAssembly.Module>}
 */
export async function compiled(url, cache) {
  let timer = 0;
  const late = new Promise((resolve, reject) => {
    if (!navigator.serviceWorker?.controller) return;
    const begin = async () => new WebAssembly.Module(await (await fetch(url)).arrayBuffer());
    timer = setTimeout(() => begin().then(resolve, reject), COMPILED_IN);
  });
  const soon = fetch(url, { cache }).then(async (answer) => {
    if (!answer.ok) throw new Error(`${answer.status} for ${url}`);
    // A host that does not know the type of wasm still serves it.
    const known = answer.headers.get('Content-Type') === 'application/wasm';
    return known ? WebAssembly.compileStreaming(answer) : WebAssembly.compile(await answer.arrayBuffer());
  });
  try {
    return await Promise.race([soon, late]);
  } finally {
    clearTimeout(timer);
  }
}

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
  const promise = compiled(url, cache).then((module) => new WebAssembly.Instance(module, { __wasm_split: initSync() }));
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
