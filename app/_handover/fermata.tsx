/** The musician's sign for "hold it here"; the words beside it say the same. */
export function Fermata() {
  return (
    <svg aria-hidden="true" viewBox="0 0 24 15" className="mr-1 inline-block h-3.5 w-6 align-baseline">
      <path d="M2 14a10 10 0 0 1 20 0" fill="none" stroke="currentColor" strokeWidth="2" />
      <circle cx="12" cy="12" r="2" fill="currentColor" />
    </svg>
  );
}
