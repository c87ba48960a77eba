import { useState } from 'react';
import {
  type Floor,
  outlineOf,
  sized,
  withCornerAfter,
  withCornerAt,
  withoutCorner,
} from '@/lib/core/dance/floor.ts';
import { parseNumber } from '../_dance/entering.ts';
import { NumberField } from '../_dance/numberField.tsx';
import { Button } from '../_ui/button.tsx';
import { TextField } from '../_ui/field.tsx';
import { Notice } from '../_ui/notice.tsx';
import { words } from './words.ts';

/** Two numbers are a floor. */
export function SizeForm({ floor, onKeep }: { floor: Floor | null; onKeep: (floor: Floor) => void }) {
  const [wrong, setWrong] = useState(false);
  const keep = (form: FormData) => {
    const metres = (name: string) => {
      const text = String(form.get(name) ?? '');
      const value = parseNumber(text, 1, 100);
      // What was brought into bounds is not what was meant.
      return value !== null && value === Number(text.trim().replace(',', '.')) ? value : null;
    };
    const [width, depth] = [metres('width'), metres('depth')];
    setWrong(width === null || depth === null);
    if (width !== null && depth !== null) onKeep(sized(floor, width, depth));
  };
  return (
    <form
      className="grid grid-cols-2 items-baseline gap-3"
      onSubmit={(event) => {
        event.preventDefault();
        keep(new FormData(event.currentTarget));
      }}
    >
      <TextField label={words.width} name="width" inputMode="decimal" required defaultValue={floor?.width} />
      <TextField label={words.depth} name="depth" inputMode="decimal" required defaultValue={floor?.depth} />
      {wrong ? (
        <div className="col-span-2">
          <Notice kind="wrong">{words.notMetres}</Notice>
        </div>
      ) : null}
      <p className="col-span-2">
        <Button type="submit" look={floor ? 'plain' : 'main'}>
          {words.draw}
        </Button>
      </p>
    </form>
  );
}

/** Every corner in numbers, for who uses keys, or has measured it. */
export function CornerFields({ floor, onKeep }: { floor: Floor; onKeep: (floor: Floor) => void }) {
  const outline = outlineOf(floor);
  return (
    <details>
      <summary className="min-h-11 content-center">{words.corners}</summary>
      <p className="text-soft">{words.cornersHint}</p>
      <ol className="mt-2 space-y-3">
        {outline.map((corner, i) => (
          // The corners of an outline have no name but their number.
          // biome-ignore lint/suspicious/noArrayIndexKey: see above
          <li key={i}>
            <fieldset className="grid grid-cols-[1fr_1fr_auto_auto] items-baseline gap-2">
              <legend className="text-sm">{words.corner(i + 1)}</legend>
              <NumberField
                label={words.fromLeft}
                value={corner.x}
                least={-100}
                most={200}
                onKeep={(x) => onKeep(withCornerAt(floor, i, { ...corner, x }))}
              />
              <NumberField
                label={words.fromFront}
                value={corner.y}
                least={-100}
                most={200}
                onKeep={(y) => onKeep(withCornerAt(floor, i, { ...corner, y }))}
              />
              <Button
                look="quiet"
                className="px-2!"
                aria-label={words.cornerAfter(i + 1)}
                onClick={() => onKeep(withCornerAfter(floor, i))}
              >
                +
              </Button>
              <Button
                look="quiet"
                className="px-2!"
                disabled={outline.length <= 3}
                aria-label={words.takeCorner(i + 1)}
                onClick={() => onKeep(withoutCorner(floor, i))}
              >
                −
              </Button>
            </fieldset>
          </li>
        ))}
      </ol>
    </details>
  );
}
