import { type Asked, offering, type Said } from './proposal.ts';

/** Dances are proposed off the page's own thread. One question a worker; it is cancelled by ending the worker. */
declare const self: DedicatedWorkerGlobalScope;

const say = (said: Said) => self.postMessage(said);
self.onmessage = ({ data }: MessageEvent<Asked>) => {
  const steps = offering(data);
  for (;;) {
    const { done, value } = steps.next();
    if (done) return say({ offers: value });
    say({ share: value });
  }
};

const loaded = performance.getEntriesByType('resource').map(({ name }) => name);
say({ files: [self.location.origin + self.location.pathname, ...loaded] });
