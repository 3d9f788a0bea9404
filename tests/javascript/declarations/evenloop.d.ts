// The script that wasm-bindgen writes, as far as the boot script uses it.
export default function init(options: { module_or_path: URL | Promise<Response> }): Promise<unknown>;
export function hydrate(): void | Promise<void>;
