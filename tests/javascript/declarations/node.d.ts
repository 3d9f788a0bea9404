// Of Node.js what the simulated browser uses.
declare module 'node:fs' {
  export function readFileSync(path: string, encoding: 'utf8'): string;
}

declare module 'node:vm' {
  class Script {
    constructor(source: string);
    runInContext(context: object): any;
  }
  export default class {
    static Script: typeof Script;
    static createContext(globals: object): object;
  }
}

declare var process: { argv: string[]; exit(status: number): never };
declare var console: { log(...text: unknown[]): void };
declare var performance: { now(): number };
declare function queueMicrotask(task: () => void): void;
