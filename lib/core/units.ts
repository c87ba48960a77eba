/**
 * Times and counts carry their clock in their type; the functions here are the only way from a plain number to one of them.
 * A time is in seconds. What a document stores is rounded to whole microseconds, so that equal edits are equal bytes.
 */
declare const unit: unique symbol;
type Branded<Name extends string> = number & { readonly [unit]: Name };

/** Seconds from the start of the recording. */
export type RecordTime = Branded<'RecordTime'>;
/** Seconds from the moment the music starts on the night, in the song as it is played. */
export type FloorTime = Branded<'FloorTime'>;
/** Index of a count on the floor score, from 0. */
export type Count = Branded<'Count'>;

export const recordTime = (seconds: number): RecordTime => seconds as RecordTime;
export const floorTime = (seconds: number): FloorTime => seconds as FloorTime;
export const count = (index: number): Count => index as Count;

const MICROS = 1e6;
/** Nearest whole microsecond, still in seconds. */
export const wholeMicros = (seconds: number): number => Math.round(seconds * MICROS) / MICROS;
export const toMicros = (seconds: number): number => Math.round(seconds * MICROS);

const MINUS = '−';

/** `−14.2`, `+0.3`, `0.0`: a figure that may be below nothing, with the sign that is one (U+2212). */
export function signed(figure: number, decimals: number): string {
  const size = Math.abs(figure).toFixed(decimals);
  return `${Number(size) === 0 ? '' : figure < 0 ? MINUS : '+'}${size}`;
}

/** `3:05`, or `3:05.4` with one decimal; negative times keep their sign. */
export function clock(seconds: number, decimals = 0): string {
  const scale = 10 ** decimals;
  const units = Math.round(Math.abs(seconds) * scale);
  const minutes = Math.floor(units / (60 * scale));
  const rest = (units - minutes * 60 * scale) / scale;
  const width = decimals === 0 ? 2 : 3 + decimals;
  return `${seconds < 0 && units > 0 ? MINUS : ''}${minutes}:${rest.toFixed(decimals).padStart(width, '0')}`;
}
