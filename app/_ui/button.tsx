import type { ButtonHTMLAttributes } from 'react';

type Look = 'main' | 'plain' | 'quiet' | 'night' | 'night-main';
const looks: Record<Look, string> = {
  main: 'border-ink bg-ink text-paper hover:bg-soft',
  plain: 'border-ink bg-paper text-ink hover:bg-paper-2',
  quiet: 'border-transparent bg-transparent text-ink underline underline-offset-4 hover:bg-paper-2',
  night: 'border-night-soft bg-transparent text-night-ink hover:border-night-ink',
  'night-main': 'border-night-ink bg-night-ink text-night hover:bg-night-soft',
};

/** At least 44 px high: a thumb in a dance studio. */
export function buttonClass(look: Look = 'plain', extra = ''): string {
  return `inline-flex min-h-11 items-center justify-center gap-2 rounded-full border px-4 py-1.5 text-base font-semibold no-underline disabled:cursor-not-allowed disabled:opacity-55 ${looks[look]} ${extra}`;
}

/** @param once the second click of a double click does nothing: for what makes something new */
export function Button({
  look = 'plain',
  className = '',
  type = 'button',
  once = false,
  onClick,
  ...rest
}: ButtonHTMLAttributes<HTMLButtonElement> & { look?: Look; once?: boolean }) {
  return (
    <button
      type={type}
      className={buttonClass(look, className)}
      onClick={(event) => {
        if (once && event.detail > 1) event.preventDefault();
        else onClick?.(event);
      }}
      {...rest}
    />
  );
}
