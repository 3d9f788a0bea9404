// What parts.js finds in the script that it is put at the end of: the one that wasm-bindgen writes.
declare function initSync(): WebAssembly.Exports & { __indirect_function_table: WebAssembly.Table };
