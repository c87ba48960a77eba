'use client';

import { useEffect, useState } from 'react';

/** Empty modules around the code, as ISO/IEC 18004 asks for. */
const QUIET = 4;

/** An address as a code to point a phone at. */
export function QrCode({ text, label }: { text: string; label: string }) {
  const [code, setCode] = useState<{ size: number; path: string } | null>(null);
  useEffect(() => {
    let live = true;
    void import('qrcode').then(({ create }) => {
      const { size, data } = create(text, { errorCorrectionLevel: 'M' }).modules;
      let path = '';
      for (let at = 0; at < size * size; at++)
        if (data[at]) path += `M${(at % size) + QUIET} ${Math.floor(at / size) + QUIET}h1v1h-1z`;
      if (live) setCode({ size: size + 2 * QUIET, path });
    });
    return () => {
      live = false;
    };
  }, [text]);
  if (code === null) return <div className="size-48 bg-paper-2" />;
  return (
    <svg
      role="img"
      aria-label={label}
      viewBox={`0 0 ${code.size} ${code.size}`}
      width="192"
      height="192"
      shapeRendering="crispEdges"
      className="border border-rule"
    >
      <rect width={code.size} height={code.size} fill="#ffffff" />
      <path d={code.path} fill="#000000" />
    </svg>
  );
}
