/**
 * What a way needs of a browser, in as few verbs as three engines have in common. Pages are looked at by functions that run in them;
 * what a person does (a press, a key, a file) comes in as the browser's own input, so that it counts as a person's.
 */
export interface Driver {
  /** The browser's own name and version. */
  readonly name: string;
  open(address: string): Promise<void>;
  /** Runs the text of a function in the page, with these words given, and gives what it promises. Only JSON goes in and out. */
  run(source: string, given: readonly unknown[]): Promise<unknown>;
  /** A press of the first button, or of a finger, at a place in the window, pixels. */
  press(x: number, y: number): Promise<void>;
  /** Keys as the standard names them (WebDriver, 17.4.2): letters, or one of `KEYS`. */
  type(keys: string): Promise<void>;
  /** Chooses a file in the field that this selector finds. */
  choose(selector: string, path: string): Promise<void>;
  /** What the page has complained of since it was asked last. */
  complaints(): Promise<string[]>;
  end(): Promise<void>;
}

export const KEYS = { enter: '\uE007', end: '\uE010', tab: '\uE004', control: '\uE009' } as const;

/** Put into each new page before its own scripts, where the engine allows it; else as soon as it is open. */
export const WATCH = `
  if (!window.engineComplaints) {
    window.engineComplaints = [];
    addEventListener('error', (event) => {
      if (event.message) window.engineComplaints.push(event.message);
    });
    addEventListener('unhandledrejection', (event) => window.engineComplaints.push('unhandled: ' + event.reason));
    addEventListener('securitypolicyviolation', (event) =>
      window.engineComplaints.push('policy: ' + event.violatedDirective + ' ' + event.blockedURI));
  }`;
export const TAKE_COMPLAINTS = `() => (window.engineComplaints ?? []).splice(0)`;
