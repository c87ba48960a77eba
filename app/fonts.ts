import localFont from 'next/font/local';

/*
 * Latin letters come ahead of the page that is set in them, so that it is laid out once. What else a name may be written in comes
 * when it is needed: by the same faces' other files, named after these in globals.css.
 */
export const serif = localFont({
  src: [
    {
      path: '../node_modules/@fontsource-variable/newsreader/files/newsreader-latin-wght-normal.woff2',
      style: 'normal',
      weight: '200 800',
    },
    {
      path: '../node_modules/@fontsource-variable/newsreader/files/newsreader-latin-wght-italic.woff2',
      style: 'italic',
      weight: '200 800',
    },
  ],
  variable: '--latin-serif',
  adjustFontFallback: false,
});
export const sans = localFont({
  src: '../node_modules/@fontsource-variable/source-sans-3/files/source-sans-3-latin-wght-normal.woff2',
  weight: '200 900',
  variable: '--latin-sans',
  adjustFontFallback: false,
});
