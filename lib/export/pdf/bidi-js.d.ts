declare module 'bidi-js' {
  /** The Unicode Bidirectional Algorithm (Unicode Standard Annex 9). */
  export default function bidiFactory(): {
    getEmbeddingLevels(text: string, direction?: 'ltr' | 'rtl'): { levels: Uint8Array };
  };
}
