/** What may name a session: it is also the name of its folder in the archive, on every system. */
import { shown } from '../base/shown.ts';
import { isDeviceName } from './device-name.ts';

/** The form alone; device names have it too. */
export const SESSION_ID = /^[A-Za-z0-9](?:[A-Za-z0-9-]{0,62}[A-Za-z0-9])?$/;

/** What is wrong with an id, or undefined where nothing is. */
export function idFault(id: string): string | undefined {
  if (!SESSION_ID.test(id))
    return `Found ${shown(id)}. Expected: up to 64 letters (a to z), digits and hyphens, with a hyphen only in between.`;
  return isDeviceName(id)
    ? `${shown(id)} names a device on Windows and cannot be a folder there. Choose another.`
    : undefined;
}
