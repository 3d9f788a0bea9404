// What the scripts of a page leave for the app.

/** The second copy of localStorage; see public/echo.js. */
interface EvenloopEcho {
  put(key: string, text: string | null | undefined, waits: boolean): void;
  waiting(): string[];
  whole(): boolean;
}

declare var evenloopEcho: EvenloopEcho;

/** Trusted Types, as far as the boot script uses them; missing in older browsers. */
interface TrustedTypesRules {
  createHTML(text: string): string | null;
  createScriptURL(url: string): string | null;
}

declare var trustedTypes: { createPolicy(name: string, rules: TrustedTypesRules): unknown } | undefined;

/** What is shown of Now until the app is awake; see public/first.js. Only on its page. */
interface EvenloopFirst {
  close(): boolean;
  leave(): void;
  tell(): void;
}

declare var evenloopFirst: EvenloopFirst | undefined;
