// Wakes the page: loads the app and lets it take over what the server rendered.
// Packing puts the hashed names in place of the plain ones.

// The app's framework looks for these; its pages carry no data, so they are empty.
Object.assign(globalThis, {
  __RESOLVED_RESOURCES: [],
  __SERIALIZED_ERRORS: [],
  __PENDING_RESOURCES: [],
  __RESOURCE_RESOLVERS: [],
  __INCOMPLETE_CHUNKS: [],
});

try {
  const app = await import('./evenloop.js');
  await app.default({ module_or_path: new URL('./evenloop_bg.wasm', import.meta.url) });
  app.hydrate();
  document.documentElement.dataset.awake = '';
} catch (error) {
  console.error(error);
  document.getElementById('trouble')?.removeAttribute('hidden');
}
