// Takes the service worker's place while the app is being changed (`server/start --dev`), so that nothing is
// stored. What packing tells a service worker is of no use to it; the marks are there to be filled in.
void ['__BUILD__', ['__PAGES__'], ['__FILES__'], ['__NEWS__'], ['__NO_SIGNAL__']];
addEventListener('install', () => skipWaiting());
