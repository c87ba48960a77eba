import { DraftField } from '../_ui/draftField.tsx';
import { parseNumber } from './entering.ts';

interface Props {
  label: string;
  hint?: string;
  value: number;
  least: number;
  most: number;
  whole?: boolean;
  onKeep(value: number): void;
}

/** A number of a shared document; what is no number leaves it as it was. */
export function NumberField({ label, hint, value, least, most, whole = false, onKeep }: Props) {
  return (
    <DraftField
      label={label}
      hint={hint}
      inputMode={whole ? 'numeric' : 'decimal'}
      value={String(value)}
      onKeep={(text) => {
        const entered = parseNumber(text, least, most);
        if (entered !== null) onKeep(whole ? Math.round(entered) : entered);
      }}
    />
  );
}
