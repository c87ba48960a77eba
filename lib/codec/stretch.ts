import type { Stretch } from '../core/edit/render.ts';
import type { Sound } from '../core/signal/sound.ts';

/** What is used of the library's compiled program. */
interface Program {
  HEAP8: Int8Array;
  _presetDefault(channels: number, rate: number): void;
  _reset(): void;
  /** Samples between what is given and what is worked on, and between that and what is given back. */
  _inputLatency(): number;
  _outputLatency(): number;
  /** Makes room for so many samples a channel and gives its address: the inputs, then the outputs. */
  _setBuffers(channels: number, length: number): number;
  _process(samplesIn: number, samplesOut: number): void;
}
interface Processor {
  wasmModule: Program;
}
type ProcessorClass = new (options: object) => Processor;

/** Samples made in a step. */
const STEP = 4096;
/** The slowest and fastest that there is room for. */
const FASTEST = 1.25;

/**
 * Time stretching by the Signalsmith Stretch library (MIT). Its latency, some 0.12 s, is taken off to the nearest sample: a moment
 * t of the sound is heard at t / speed. Equal in node and in every browser, since one compiled program does all arithmetic; it
 * begins afresh for each rendering, because what it keeps would be heard in the next.
 */
export async function loadStretch(): Promise<Stretch> {
  const program = await begun(await processorClass());
  let used = false;
  return (sound, length) => {
    if (used) throw new Error('One stretch serves one rendering.');
    used = true;
    return { ...sound, length, parts: () => stretched(program, sound, length) };
  };
}

function* stretched(program: Program, sound: Sound, length: number): Generator<Float32Array[]> {
  const speed = sound.length / length;
  program._presetDefault(sound.channels, sound.rate);
  program._reset();
  const room = Math.ceil(STEP * FASTEST) + 1;
  const address = program._setBuffers(sound.channels, room);
  const view = (slot: number, samples: number) =>
    new Float32Array(program.HEAP8.buffer, address + 4 * room * slot, samples);
  const late = Math.round(program._outputLatency() + program._inputLatency() / speed);
  const take = reader(sound);
  let taken = 0;
  for (let made = 0; made < length + late; ) {
    const now = Math.min(STEP, length + late - made);
    const until = Math.round((made + now) * speed);
    take(Array.from({ length: sound.channels }, (_, c) => view(c, until - taken)));
    program._process(until - taken, now);
    const from = Math.min(now, Math.max(0, late - made));
    if (from < now) {
      yield Array.from({ length: sound.channels }, (_, c) => view(sound.channels + c, now).slice(from));
    }
    taken = until;
    made += now;
  }
}

/** Reads a sound in pieces of any size; silence after its end. */
function reader(sound: Sound): (into: Float32Array[]) => void {
  const parts = sound.parts()[Symbol.iterator]();
  let part: Float32Array[] = [];
  let used = 0;
  return (into) => {
    const wanted = into[0]?.length ?? 0;
    let at = 0;
    while (at < wanted) {
      if (used === (part[0]?.length ?? 0)) {
        const next = parts.next();
        if (next.done) break;
        [part, used] = [next.value, 0];
        continue;
      }
      const count = Math.min(wanted - at, part[0]!.length - used);
      for (const [c, out] of into.entries()) out.set(part[c]!.subarray(used, used + count), at);
      used += count;
      at += count;
    }
    for (const out of into) out.fill(0, at);
  };
}

let known: Promise<ProcessorClass> | null = null;

/**
 * The package is made for an AudioWorklet, which plays in real time and does not exist in node. There it registers a class of
 * processors that holds the program; this stands in for that place while the package is read.
 */
function processorClass(): Promise<ProcessorClass> {
  known ??= new Promise((resolve, reject) => {
    const place = globalThis as unknown as Record<string, unknown>;
    // Read by the class whenever one is made; the true rate is set by `_presetDefault` afterwards.
    place.sampleRate ??= 44_100;
    place.AudioWorkletProcessor = WorkletPlace;
    place.registerProcessor = (_: string, registered: ProcessorClass) => resolve(registered);
    import('signalsmith-stretch').catch(reject).finally(() => {
      delete place.AudioWorkletProcessor;
      delete place.registerProcessor;
    });
  });
  return known;
}

/** What a processor stands on: a port by which it says that its program is ready. */
class WorkletPlace {
  readonly port: { postMessage(message: unknown): void };
  constructor({ ready }: { ready: () => void }) {
    this.port = { postMessage: ready };
  }
}

function begun(Processor: ProcessorClass): Promise<Program> {
  return new Promise((resolve) => {
    const processor: Processor = new Processor({
      ready: () => resolve(processor.wasmModule),
      ...{ numberOfOutputs: 1, outputChannelCount: [2] },
    });
  });
}
