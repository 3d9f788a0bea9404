// What the scripts of a page leave for the app.

/** The second copy of localStorage; see public/echo.js. */
interface EvenloopEcho {
  put(key: string, text: string | null | undefined, waits: boolean): void;
  waiting(): string[];
  whole(): boolean;
  compared(): number;
  restored(): string[];
}

declare var evenloopEcho: EvenloopEcho;

/** A text that was stored before the script of the second copy arrived: the version it had before, and the text itself
 * where it found no room. */
interface EvenloopEarly {
  before: number;
  held?: string | null;
}

declare var evenloopEarly: Map<string, EvenloopEarly> | undefined;

/** Has the browser install the worker, again and again where the first one fails; see public/boot.js. */
declare var evenloopInstall: () => Promise<ServiceWorkerRegistration>;

/** Trusted Types, as far as the boot script uses them; missing in older browsers. */
interface TrustedTypesRules {
  createHTML(text: string): string | null;
  createScriptURL(url: string): string | null;
}

declare var trustedTypes: { createPolicy(name: string, rules: TrustedTypesRules): unknown } | undefined;

/** Recognition of speech as the standard has it, as far as the script that listens uses it. */
interface SpeechRecognition {
  lang: string;
  continuous: boolean;
  interimResults: boolean;
  maxAlternatives: number;
  processLocally?: boolean;
  onstart: (() => void) | null;
  onend: (() => void) | null;
  onerror: ((event: { error: string }) => void) | null;
  onresult: ((event: { resultIndex: number; results: Iterable<SpeechRecognitionResult & Iterable<SpeechRecognitionAlternative>> }) => void) | null;
  start(): void;
  abort(): void;
}

interface SpeechRecognitionMaker {
  new (): SpeechRecognition;
  available?(options: { langs: string[]; processLocally: boolean }): Promise<string>;
}

declare var SpeechRecognition: SpeechRecognitionMaker | undefined;
declare var webkitSpeechRecognition: SpeechRecognitionMaker | undefined;
/** What is shown of Now until the app is awake; see public/first.js. Only on its page. */
interface EvenloopFirst {
  close(): boolean;
  leave(): void;
  tell(): void;
}

declare var evenloopFirst: EvenloopFirst | undefined;
