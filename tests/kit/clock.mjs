// Loaded before a process begins: its `Date` is ahead by LARKSTEP_TEST_AHEAD milliseconds, and goes on from there. Every process
// that it starts has the same clock, since both are in the environment.
const ahead = Number(process.env.LARKSTEP_TEST_AHEAD);
const Here = Date;
const now = () => Here.now() + ahead;

globalThis.Date = new Proxy(Here, {
  construct: (target, words, made) => Reflect.construct(target, words.length === 0 ? [now()] : words, made),
  apply: () => new Here(now()).toString(),
  get: (target, name) => (name === 'now' ? now : Reflect.get(target, name)),
});
