'use client';

import { TitlePage } from './_studio/titlePage.tsx';
import { Button, buttonClass } from './_ui/button.tsx';

/** Something broke in a page. What was written is stored, or kept on this device, before it is ever drawn. */
export default function PageBroke() {
  return (
    <TitlePage title="This page tripped" under="The fault is ours, not yours.">
      <p className="max-w-prose text-lg">
        What you wrote is kept. Load the page again; if it trips once more, tell whoever runs this studio’s
        Larkstep, and what you did just before.
      </p>
      <p className="mt-6 flex flex-wrap gap-3">
        {/* The whole page anew: a part of it that failed to arrive is asked for again only then. */}
        <Button look="main" onClick={() => location.reload()}>
          Load the page again
        </Button>
        <a href="/" className={buttonClass()}>
          To the front page
        </a>
      </p>
    </TitlePage>
  );
}
