/**
 * What the net hears: log amplitudes of bands in the short window (about 46 ms, two frames a step) and of semitones in the long one (about
 * 186 ms, one a step); `tests/ear/features.py` makes the same. A step is four frames of the onset curves, 25 a second.
 */
export interface NetInput {
  steps: number;
  /** Steps a second. */
  rate: number;
  /** 2 x BANDS values a step. */
  bands: Float32Array;
  /** TONES values a step. */
  tones: Float32Array;
}

export const BANDS = 60;
export const TONES = 48;
const LOWEST = 40;
const HIGHEST = 10_000;
/** A1. */
const LOWEST_TONE = 55;
/** log(1 + STEEP x amplitude): a full-scale tone has amplitude 1. */
const STEEP = 300;
const ONSETS_A_STEP = 4;

/** Steps of equal width on the mel scale (O'Shaughnessy 1987). */
function bandEdges(): number[] {
  const mel = (hertz: number): number => 2595 * Math.log10(1 + hertz / 700);
  return Array.from({ length: BANDS + 1 }, (_, i) => {
    const at = mel(LOWEST) + (i / BANDS) * (mel(HIGHEST) - mel(LOWEST));
    return 700 * (10 ** (at / 2595) - 1);
  });
}

const toneEdges = (): number[] =>
  Array.from({ length: TONES + 1 }, (_, i) => LOWEST_TONE * 2 ** ((i - 0.5) / 12));

/** Reads powers between edges out of running sums; bin k reaches from k - 1/2 to k + 1/2, and above the last bin is silence. */
class Edges {
  private readonly bin: Int32Array;
  private readonly part: Float64Array;

  constructor(hertz: readonly number[], size: number, rate: number) {
    const bins = size / 2 + 1;
    const at = hertz.map((edge) => Math.min(bins, (edge * size) / rate + 0.5));
    this.bin = Int32Array.from(at, (x) => Math.min(bins - 1, Math.floor(x)));
    this.part = Float64Array.from(at, (x, i) => x - this.bin[i]!);
  }

  /** Adds `share` of each band's power to `out`. */
  add(below: Float64Array, share: number, out: Float64Array): void {
    const { bin, part } = this;
    let before = 0;
    for (let i = 0; i < bin.length; i++) {
      const k = bin[i]!;
      const sum = below[k]! + part[i]! * (below[k + 1]! - below[k]!);
      if (i > 0) out[i - 1]! += share * (sum - before);
      before = sum;
    }
  }
}

/** Fed with the spectra that the onset curves and tone frames are made of, so that none is computed for the net alone. */
export class NetEar {
  private readonly steps: number;
  private readonly bands: Float32Array;
  private readonly tones: Float32Array;
  private readonly bandEdges: Edges;
  private readonly toneEdges: Edges;
  private readonly held = new Float64Array(BANDS);
  private readonly heldTones = new Float64Array(TONES);

  constructor(
    private readonly size: number,
    rate: number,
    private readonly toneSize: number,
    toneRate: number,
    count: number,
    private readonly toneCount: number,
    private readonly onsetRate: number,
  ) {
    this.steps = Math.floor(count / ONSETS_A_STEP);
    this.bands = new Float32Array(2 * BANDS * this.steps);
    this.tones = new Float32Array(TONES * this.steps);
    this.bandEdges = new Edges(bandEdges(), size, rate);
    this.toneEdges = new Edges(toneEdges(), toneSize, toneRate);
  }

  /** @param below running sums of onset frame i's powers; frames come in order */
  addOnset(i: number, below: Float64Array): void {
    const frame = i >> 1;
    if (frame >= 2 * this.steps) return;
    if (i % 2 === 0) {
      this.bandEdges.add(below, i === 0 ? 0.75 : 0.5, this.held);
      return;
    }
    // Between two frames lies a quarter of either.
    this.bandEdges.add(below, 0.25, this.held);
    const scale = 4 / this.size;
    for (let b = 0; b < BANDS; b++) {
      this.bands[BANDS * frame + b] = Math.log1p(STEEP * scale * Math.sqrt(Math.max(0, this.held[b]!)));
      this.held[b] = 0;
    }
    this.bandEdges.add(below, 0.25, this.held);
  }

  /** @param below running sums of tone frame i's powers */
  addTone(i: number, below: Float64Array): void {
    // The steps to which this frame is nearest.
    const first = Math.max(0, Math.ceil((i - 0.5) / 0.8));
    const end = i === this.toneCount - 1 ? this.steps : Math.min(this.steps, Math.ceil((i + 0.5) / 0.8));
    if (first >= end) return;
    this.heldTones.fill(0);
    this.toneEdges.add(below, 1, this.heldTones);
    const scale = 4 / this.toneSize;
    for (let b = 0; b < TONES; b++) {
      const value = Math.log1p(STEEP * scale * Math.sqrt(Math.max(0, this.heldTones[b]!)));
      for (let s = first; s < end; s++) this.tones[TONES * s + b] = value;
    }
  }

  input(): NetInput {
    return { steps: this.steps, rate: this.onsetRate / ONSETS_A_STEP, bands: this.bands, tones: this.tones };
  }
}
