import Link from 'next/link';
import { TitlePage } from './_studio/titlePage.tsx';
import { buttonClass } from './_ui/button.tsx';

export const metadata = { title: 'Not here' };

/** An address that leads nowhere. */
export default function NotFound() {
  return (
    <TitlePage title="This page is not there" under="A step to nowhere.">
      <p className="max-w-prose text-lg">
        The address may have lost a letter on its way. If a link was sent to you, open it again as it stands
        there.
      </p>
      <p className="mt-6">
        <Link href="/" prefetch={false} className={buttonClass('main')}>
          To the front page
        </Link>
      </p>
    </TitlePage>
  );
}
