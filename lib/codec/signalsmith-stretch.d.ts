/** The package comes without types, and what it exports is not used: see stretch.ts. */
declare module 'signalsmith-stretch';
