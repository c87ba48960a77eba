/** @type {import('next').NextConfig} */
export default {
  poweredByHeader: false,
  // No page uses the optimizer, and nobody may have this server work on pictures.
  images: { unoptimized: true },
  // It loads files of its own at run time, which a bundle would break.
  serverExternalPackages: ['libsql'],
  // `npm run check` holds the types; who only starts it need not wait for that.
  typescript: { ignoreBuildErrors: true },
  // In development requests are logged; these addresses hold a secret.
  logging: { incomingRequests: { ignore: [/^\/join\//, /^\/calendar\//] } },
  turbopack: {
    root: import.meta.dirname,
    // Not into pages: lib0 names node's Buffer, and what is put in its place weighs a tenth of the sheet's script; so does a log.
    resolveAlias: {
      'next/dist/compiled/buffer': './app/_client/noBuffer.ts',
      'lib0/logging': './app/_client/plainLog.ts',
    },
  },
};
