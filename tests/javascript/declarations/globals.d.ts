// What the scripts of a page leave for the app.

/** The second copy of localStorage; see public/echo.js. */
interface EvenloopEcho {
  put(key: string, text: string | null | undefined, waits: boolean): void;
  waiting(): string[];
  whole(): boolean;
}

declare var evenloopEcho: EvenloopEcho;

/** Has the browser install the worker, again and again where the first one fails; see public/boot.js. */
declare var evenloopInstall: () => Promise<ServiceWorkerRegistration>;

/** Trusted Types, as far as the boot script uses them; missing in older browsers. */
interface TrustedTypesRules {
  createHTML(text: string): string | null;
  createScriptURL(url: string): string | null;
}

declare var trustedTypes: { createPolicy(name: string, rules: TrustedTypesRules): unknown } | undefined;
