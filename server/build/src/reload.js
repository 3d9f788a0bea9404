// While the app is being changed (`server/start --dev`): looks whether the server has another build than
// this page, and reloads the page.
{
  const mark = /name="evenloop-build" content="(\w+)"/;
  /** @type {HTMLMetaElement | null} */
  const build = document.querySelector('meta[name=evenloop-build]');
  setInterval(async () => {
    const page = await fetch(location.href, { cache: 'no-store' }).then((answer) => answer.text(), () => '');
    const [, theirs] = page.match(mark) ?? [];
    if (theirs && theirs !== build?.content) location.reload();
  }, 500);
}

