import { useSyncExternalStore } from 'react';

const never = () => () => undefined;

/**
 * Whether the page listens already. A form that is sent before that is sent by the browser itself, and its words stand in the
 * address.
 */
export const useListens = (): boolean =>
  useSyncExternalStore(
    never,
    () => true,
    () => false,
  );
