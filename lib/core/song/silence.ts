import { energyOf } from '../signal/samples.ts';

/** Blocks over which the level is taken, seconds. */
const BLOCK = 0.01;
/** Sound begins and ends this far below the loudest block, or at ABSOLUTE where that is higher. dB. */
const BELOW_LOUDEST = 60;
const ABSOLUTE = -75;

/** Seconds at which sound is first and last heard. */
export interface SoundEdges {
  first: number;
  last: number;
}

/** Takes the levels of mono samples that come block by block. */
export class LevelMeter {
  private readonly size: number;
  private readonly levels: number[] = [];
  private sum = 0;
  private summed = 0;
  private length = 0;

  constructor(private readonly rate: number) {
    this.size = Math.max(1, Math.round(BLOCK * rate));
  }

  add(block: Float64Array): void {
    this.length += block.length;
    for (let from = 0; from < block.length; ) {
      const to = Math.min(block.length, from + this.size - this.summed);
      this.sum += energyOf(block, from, to);
      this.summed += to - from;
      from = to;
      if (this.summed === this.size) this.close();
    }
  }

  /** Undefined of a silent recording. */
  edges(): SoundEdges | undefined {
    if (this.summed > 0) this.close();
    const { levels, size, rate, length } = this;
    const loudest = levels.reduce((top, level) => Math.max(top, level), Number.NEGATIVE_INFINITY);
    const threshold = Math.max(ABSOLUTE, loudest - BELOW_LOUDEST);
    if (loudest <= ABSOLUTE) return undefined;
    const first = levels.findIndex((level) => level > threshold);
    const last = levels.findLastIndex((level) => level > threshold);
    return { first: (first * size) / rate, last: Math.min(length, (last + 1) * size) / rate };
  }

  private close(): void {
    this.levels.push(10 * Math.log10(this.sum / this.summed + 1e-15));
    this.sum = 0;
    this.summed = 0;
  }
}
