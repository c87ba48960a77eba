import type { ReactNode } from 'react';
import { Asking } from './asking.tsx';

/** Asks before what somebody has said yes to is changed; `children` say what that means for them. */
export function AgreedAsking({
  by,
  children,
  onYes,
  onNo,
}: {
  /** Who said yes; '' for nobody by name. */
  by: string;
  children: ReactNode;
  onYes: () => void;
  onNo: () => void;
}) {
  return (
    <Asking
      title={`${by || 'The DJ'} has said yes to the present edit`}
      yes="Change it anyway"
      no="Keep what was agreed"
      onYes={onYes}
      onNo={onNo}
    >
      <p>{children}</p>
    </Asking>
  );
}
