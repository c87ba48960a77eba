import '@fontsource-variable/newsreader/wght.css';
import '@fontsource-variable/newsreader/wght-italic.css';
import '@fontsource-variable/source-sans-3/wght.css';
import './globals.css';
import './print.css';
import type { Metadata, Viewport } from 'next';
import type { ReactNode } from 'react';
import { sans, serif } from './fonts.ts';

export const metadata: Metadata = {
  title: { default: 'Larkstep', template: '%s - Larkstep' },
  description: 'A couple’s first dance, planned together: song, moves, ending and hand-over.',
  referrer: 'no-referrer',
  robots: { index: false, follow: false },
  icons: { icon: { url: '/icon.svg', type: 'image/svg+xml' }, apple: '/icons/touch-180.png' },
  appleWebApp: { title: 'Larkstep', statusBarStyle: 'default' },
};
export const viewport: Viewport = {
  width: 'device-width',
  initialScale: 1,
  themeColor: [
    { media: '(prefers-color-scheme: light)', color: '#faf6ec' },
    { media: '(prefers-color-scheme: dark)', color: '#211d18' },
  ],
};
// Every page carries a nonce of its own request, so none may be made ahead of time.
export const dynamic = 'force-dynamic';

export default function Layout({ children }: { children: ReactNode }) {
  return (
    <html lang="en" className={`${serif.variable} ${sans.variable}`}>
      <body>{children}</body>
    </html>
  );
}
