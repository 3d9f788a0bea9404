// What the scripts of a page leave for the app.

/** The second copy of localStorage; see public/echo.js. */
interface EvenloopEcho {
  put(key: string, text: string | null | undefined, waits: boolean): void;
  waiting(): string[];
  whole(): boolean;
}

declare var evenloopEcho: EvenloopEcho;
