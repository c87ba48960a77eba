import type { MetadataRoute } from 'next';

/** What a phone or desk needs to set it beside its other programs. Opens the front page, which leads on to one's boards. */
export default function manifest(): MetadataRoute.Manifest {
  const png = (name: string, sizes: string, purpose: 'any' | 'maskable') => ({
    src: `/icons/${name}.png`,
    sizes,
    type: 'image/png',
    purpose,
  });
  return {
    id: '/',
    name: 'Larkstep',
    short_name: 'Larkstep',
    description: 'A couple’s first dance, planned together: song, moves, ending and hand-over.',
    lang: 'en',
    start_url: '/',
    scope: '/',
    display: 'standalone',
    background_color: '#faf6ec',
    theme_color: '#26221c',
    icons: [
      { src: '/icon.svg', sizes: 'any', type: 'image/svg+xml', purpose: 'any' },
      png('192', '192x192', 'any'),
      png('512', '512x512', 'any'),
      png('maskable-192', '192x192', 'maskable'),
      png('maskable-512', '512x512', 'maskable'),
    ],
  };
}
