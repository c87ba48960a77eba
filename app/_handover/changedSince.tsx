/** An edit may change in what nobody reads, such as how a join is made. */
const HIDDEN = 'How the file is made; all that you read is as it was.';

/** What changed while somebody looked, beside the button that gives their word for it. */
export function ChangedSince({ differs, night = false }: { differs: readonly string[]; night?: boolean }) {
  return (
    <div role="alert" className={`mb-4 border-l-[3px] pl-3 ${night ? 'border-night-wine' : 'border-wine'}`}>
      <p className={night ? 'text-night-wine' : 'text-wine'}>This changed while you looked:</p>
      <ul className="list-disc pl-5">
        {(differs.length > 0 ? differs : [HIDDEN]).map((one) => (
          <li key={one} className="wrap-anywhere">
            {one}
          </li>
        ))}
      </ul>
      <p className="mt-1">If it is right like this, please press again.</p>
    </div>
  );
}
