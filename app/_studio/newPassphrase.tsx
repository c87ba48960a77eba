import { TextField } from '../_ui/field.tsx';

/** The least length the server takes. */
const SHORTEST = 10;

/** A passphrase to be chosen, typed twice: the fields `passphrase` and `again` of a form. */
export function NewPassphrase({ label, again }: { label: string; again: string }) {
  return (
    <>
      <TextField
        label={label}
        name="passphrase"
        type="password"
        required
        minLength={SHORTEST}
        autoComplete="new-password"
        hint={`At least ${SHORTEST} characters. A few words in a row are easy to keep in mind.`}
      />
      <TextField
        label={again}
        name="again"
        type="password"
        required
        minLength={SHORTEST}
        autoComplete="new-password"
      />
    </>
  );
}

/** What a form says whose two passphrases are not the same. */
export const DIFFER = 'The two passphrases differ. Please type the same one twice.';
