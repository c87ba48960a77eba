import type { ReactNode } from 'react';

/** An edit may change in what nobody reads, such as how a join is made. */
const HIDDEN = 'How the file is made; all that you read is as it was.';

/** What changed while somebody looked, beside the button that gives their word for it. */
export function ChangedSince({ differs, night = false }: { differs: readonly string[]; night?: boolean }) {
  return (
    <div role="alert">
      <Changed
        head="This changed while you looked:"
        differs={differs.length > 0 ? differs : [HIDDEN]}
        night={night}
      >
        <p className="mt-1">If it is right like this, please press again.</p>
      </Changed>
    </div>
  );
}

/** A list of what was and is. */
export function Changed({
  head,
  differs,
  night,
  children,
}: {
  head: string;
  differs: readonly string[];
  night: boolean;
  children?: ReactNode;
}) {
  return (
    <div className={`mb-4 border-l-[3px] pl-3 ${night ? 'border-night-wine' : 'border-wine'}`}>
      <p className={night ? 'text-night-wine' : 'text-wine'}>{head}</p>
      <ul className="list-disc pl-5">
        {differs.map((one) => (
          <li key={one} className="wrap-anywhere">
            {one}
          </li>
        ))}
      </ul>
      {children}
    </div>
  );
}
