/** Arithmetic before a logger is fitted: what its card holds, and how long it must run to tell a draw. */
import { type Accuracy, accuracyU, combine, expand, rectangular } from './uncertainty.ts';

/**
 * Cluster of a card as it is sold, 2 GB to 32 GB. A file fills whole clusters.
 * Source: SD Association, File System Specification (from memory).
 */
export const CLUSTER_BYTES = 32 * 1024;
/** Two tables of 4 bytes for each cluster. Source: FAT32 File System Specification, Microsoft, 2000 (from memory). */
const TABLE_BYTES_PER_CLUSTER = 2 * 4;
/** Before the first cluster: the partition begins on a boundary of 4 MiB (from memory: SD Association, as above). */
const RESERVED_BYTES = 4 * 1024 * 1024;
/** FAT32 keeps a file's length in 32 bits. Source: the same specification (from memory). */
export const LARGEST_FILE_BYTES = 2 ** 32 - 1;

/**
 * A row as text, where none was measured: a time of 24 characters (ISO 8601 with milliseconds and Z), 8 for each value
 * with its separator, 2 for the end of the line. Ours: measure a real row where there is one.
 */
export function textRowBytes(values: number): number {
  return 24 + 8 * values + 2;
}

/** Bytes of whole clusters that a card has for files. 0 for a card that its own tables fill. */
export function bytesForFiles(cardBytes: number, clusterBytes = CLUSTER_BYTES): number {
  const clusters = Math.floor((cardBytes - RESERVED_BYTES) / (clusterBytes + TABLE_BYTES_PER_CLUSTER));
  return Math.max(0, clusters) * clusterBytes;
}

/**
 * Hours of rows that fit on an empty card. With a new file each `fileS` every file but the last is rounded up to whole
 * clusters; the last takes what is left.
 *
 * @param stepS from row to row, s
 * @param fileS undefined: one file
 */
export function hoursOnCard(asked: {
  readonly cardBytes: number;
  readonly rowBytes: number;
  readonly stepS: number;
  readonly fileS?: number;
}): number {
  const { rowBytes, stepS, fileS } = asked;
  const room = bytesForFiles(asked.cardBytes);
  const rowsIn = (bytes: number) => Math.floor(bytes / rowBytes);
  if (fileS === undefined) return (rowsIn(room) * stepS) / 3600;
  const rowsPerFile = Math.max(1, Math.round(fileS / stepS));
  const fileBytes = Math.ceil((rowsPerFile * rowBytes) / CLUSTER_BYTES) * CLUSTER_BYTES;
  const files = Math.floor(room / fileBytes);
  const lastRows = Math.min(rowsPerFile, rowsIn(room - files * fileBytes));
  return ((files * rowsPerFile + lastRows) * stepS) / 3600;
}

export interface DrawSensor {
  readonly accuracy: Accuracy;
  /** Smallest step between readings, A; 0 where unknown. */
  readonly resolutionA: number;
  /** Standard deviation of single readings of a steady draw, A. */
  readonly noiseA: number;
  readonly stepS: number;
}

/**
 * Expanded uncertainty (k = 2), A, of a steady draw's mean over a time. The maker's accuracy is the same in every
 * reading and no time averages it out; only the scatter shrinks, with √n (JCGM 100, 4.2.3 and 5.2, from memory). Half a
 * step of resolution is taken not to average out either, since a quiet draw may sit on one step all night.
 *
 * @param seconds Infinity for what is left however long the log
 */
export function drawUncertaintyA(sensor: DrawSensor, drawA: number, seconds: number): number {
  const scatterU = sensor.noiseA / Math.sqrt(Math.max(1, seconds / sensor.stepS));
  return expand(combine(accuracyU(sensor.accuracy, drawA), rectangular(sensor.resolutionA / 2), scatterU));
}

/** Seconds until `drawUncertaintyA` is down to `targetA`; null where accuracy and resolution alone leave more. */
export function secondsToUncertainty(sensor: DrawSensor, drawA: number, targetA: number): number | null {
  const lastingA = drawUncertaintyA({ ...sensor, noiseA: 0 }, drawA, Number.POSITIVE_INFINITY);
  if (targetA <= lastingA) return null;
  const readings = Math.ceil(expand(sensor.noiseA) ** 2 / (targetA ** 2 - lastingA ** 2));
  return Math.max(1, readings) * sensor.stepS;
}
