// Listens for spoken words while the hands are busy. Loaded where the knitter has switched it on, and stored with
// the rest. Most browsers send what the microphone hears to a service of their maker; where one can understand it
// on the device, that is asked for.

/** How long after the browser stopped listening it is asked again, in milliseconds, and at most after errors. */
const AGAIN = 300;
const LONGEST = 30_000;

// Under its old name in the browsers that had it before the standard.
const Recognition = globalThis.SpeechRecognition ?? globalThis.webkitSpeechRecognition;

/** Whether this browser can listen at all. */
export const able = () => Recognition !== undefined;

/**
 * Whether what is said in this language is understood on the device.
 * @param {string} language
 */
async function onDevice(language) {
  try {
    return (await Recognition?.available?.({ langs: [language], processLocally: true })) === 'available';
  } catch {
    return false;
  }
}

/**
 * Listens for as long as the page is seen.
 * @param {string} language as browsers call it
 * @param {(words: string) => boolean} heard is given what may have been said, the likeliest reading first, until it
 *   knows one
 * @param {(state: 'here' | 'away' | 'refused' | 'silent') => void} changed listening on the device or away from it,
 *   not allowed to, or without a microphone or signal for the time being
 * @returns {() => void} ends it
 */
export function listen(language, heard, changed) {
  if (Recognition === undefined) return () => {};
  const recognition = new Recognition();
  recognition.lang = language;
  recognition.continuous = true;
  recognition.interimResults = false;
  recognition.maxAlternatives = 3;
  let wanted = true;
  let runs = false;
  let wait = AGAIN;
  let timer = 0;
  /** @type {'here' | 'away'} */
  let where = 'away';

  const begin = () => {
    clearTimeout(timer);
    if (!wanted || runs || document.visibilityState !== 'visible') return;
    try {
      recognition.start();
      runs = true;
    } catch {
      // It has not quite stopped yet.
      later();
    }
  };
  const later = () => {
    clearTimeout(timer);
    timer = setTimeout(begin, wait);
  };
  const seen = () => {
    if (document.visibilityState === 'visible') begin();
    else recognition.abort();
  };
  const end = () => {
    wanted = false;
    clearTimeout(timer);
    document.removeEventListener('visibilitychange', seen);
    recognition.abort();
  };

  recognition.onstart = () => changed(where);
  recognition.onresult = ({ resultIndex, results }) => {
    wait = AGAIN;
    // What the page itself says aloud is not the knitter's.
    if (globalThis.speechSynthesis?.speaking) return;
    for (const result of [...results].slice(resultIndex)) {
      if (result.isFinal) [...result].some(({ transcript }) => heard(transcript));
    }
  };
  recognition.onerror = ({ error }) => {
    if (error === 'not-allowed' || error === 'service-not-allowed' || error === 'language-not-supported') {
      end();
      changed('refused');
    } else if (error !== 'no-speech' && error !== 'aborted') {
      wait = Math.min(2 * wait, LONGEST);
      changed('silent');
    }
  };
  recognition.onend = () => {
    runs = false;
    if (wanted) later();
  };

  document.addEventListener('visibilitychange', seen);
  onDevice(language).then((local) => {
    if (local) {
      recognition.processLocally = true;
      where = 'here';
    }
    begin();
  });
  return end;
}
