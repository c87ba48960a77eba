/** @type {import('next').NextConfig} */
export default {
  poweredByHeader: false,
  // Both load files of their own at run time, which a bundle would break.
  serverExternalPackages: ['@react-pdf/renderer', 'libsql'],
  turbopack: { root: import.meta.dirname },
};
