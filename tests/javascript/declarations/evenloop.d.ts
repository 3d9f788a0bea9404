// The script that wasm-bindgen writes and the build goes on with, as far as the boot script uses it.
export function compiled(url: URL, cache: RequestCache): Promise<WebAssembly.Module>;
export function initSync(options: { module: WebAssembly.Module }): unknown;
export function hydrate(): void | Promise<void>;
