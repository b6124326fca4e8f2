const DEVICE = /^(con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³]|conin\$|conout\$) *(\.|$)/i;

/** True for `con`, `NUL.txt` and the like, which Windows takes for devices in any folder. */
export function isDeviceName(name: string): boolean {
  return DEVICE.test(name);
}
