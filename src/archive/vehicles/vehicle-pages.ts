/** `vehicles/NAME/index.html`, a page a vehicle. */
import { readdir, readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { replaceFile } from '../../base/disk/write-file.ts';
import { drawSvg } from '../../node/drawer.ts';
import type { Content } from '../../report/words/content.ts';
import { pairsThere } from '../comparison/pairs-there.ts';
import { vehiclePage } from './vehicle-page.ts';
import type { Vehicle } from './vehicles.ts';

/**
 * Writes the page of every vehicle whose sessions have changed, and takes those away that no session belongs to any more:
 * a page that stayed behind would show what was taken out of the archive.
 */
export async function writeVehiclePages(outDir: string, vehicles: readonly Vehicle[], content: Content): Promise<void> {
  const folder = join(outDir, 'vehicles');
  const compared = await pairsThere(outDir);
  const wanted = new Set(vehicles.map((vehicle) => vehicle.folder));
  for (const one of await readdir(folder, { withFileTypes: true }).catch(() => [])) {
    // A link would be written through.
    if (!wanted.has(one.name) || !one.isDirectory()) await rm(join(folder, one.name), { recursive: true, force: true });
  }
  for (const vehicle of vehicles) {
    const page = vehiclePage(vehicle, compared, content);
    const file = join(folder, vehicle.folder, 'index.html');
    // A page made from the same things stays.
    if ((await readFile(file, 'utf8').catch(() => '')).includes(`content="${page.madeFrom}"`)) continue;
    await replaceFile(file, await page.html(drawSvg));
  }
}
