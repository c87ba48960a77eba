import { COOKIE, cookieIn, SECURE_COOKIE } from './session.ts';

/** A browser keeps a cookie for 400 days at most; what it opens ends by the server's own dates. */
const COOKIE_SECONDS = 400 * 86_400;

/** The session's cookie as the browser is told: no script reads it, and no other site's form sends it. */
export const sessionCookie = (token: string, isSecure: boolean): string =>
  `${isSecure ? SECURE_COOKIE : COOKIE}=${token}; Path=/; Max-Age=${COOKIE_SECONDS}; HttpOnly; SameSite=Lax${isSecure ? '; Secure' : ''}`;

/**
 * What a browser is told over https that still has the cookie by its name from before: the same by its new name, unless it
 * has one, and an end to the old one. Nobody is signed out.
 */
export function renewedCookies(header: string | undefined): string[] {
  const old = cookieIn(header, COOKIE);
  if (old === null) return [];
  const renewed = cookieIn(header, SECURE_COOKIE) === null ? [sessionCookie(old, true)] : [];
  return [...renewed, `${COOKIE}=; Path=/; Max-Age=0; HttpOnly; SameSite=Lax; Secure`];
}
