/** `standstill check`: what was understood of manifest and log, and every fault of either. Writes nothing. */
import { resolve } from 'node:path';
import { runChecks } from '../checks/run.ts';
import { buildReport } from '../report/build-report.ts';
import { readFolder } from '../report/make-report.ts';
import type { Report } from '../report/report.ts';
import { failureText } from './failure.ts';
import { createProgress } from './progress.ts';
import type { Terminal } from './terminal.ts';
import { VERSION } from './version.ts';

export async function check(
  folders: readonly string[],
  options: { readonly json: boolean },
  terminal: Terminal,
): Promise<0 | 1> {
  let failed = 0;
  for (const folder of folders) {
    const progress = createProgress(terminal, folder);
    try {
      const { session, analysis } = await readFolder(resolve(folder), progress.bytes);
      const findings = runChecks(analysis, session);
      const report = buildReport({ session, analysis, findings, language: 'en', version: VERSION });
      progress.clear();
      terminal.out(options.json ? `${JSON.stringify(account(report))}\n` : `${words(report).join('\n')}\n`);
    } catch (error) {
      failed++;
      progress.clear();
      terminal.err(failureText(error, folder));
    }
  }
  return failed > 0 ? 1 : 0;
}

const open = (report: Report) => report.findings.filter((finding) => finding.status === 'undecided');

function account(report: Report) {
  const { session, log } = report;
  return { session, log, undecided: open(report).map(({ check, reason }) => ({ check, reason })) };
}

function words(report: Report): string[] {
  const { session, log } = report;
  const { vehicle, battery } = session;
  return [
    `${session.id}: ${session.title}`,
    `  vehicle    ${vehicle.description}, ${vehicle.powertrain}, ${vehicle.system_voltage_v} V`,
    `  battery    ${battery.chemistry}${battery.capacity_ah === null ? '' : `, ${battery.capacity_ah} Ah`}`,
    ...session.columns.map(({ role, name, unit, accuracy }) => {
      return `  ${role.padEnd(11)}column "${name}" in ${unit}${accuracy ? `, accuracy ${accuracy}` : ''}`;
    }),
    ...log.understood.map(({ what, how }) => `  ${what.padEnd(11)}${how}`),
    `  rows       ${log.rows} in ${log.files.length} file(s), ${log.rows_rejected} not readable`,
    `  time       ${log.start} to ${log.end}, a row each ${log.median_step_s} s, ${log.missing_s} s missing`,
    ...(log.faults.length ? ['  faults of the log'] : ['  no fault of the log']),
    ...log.faults.map(({ kind, at, count, seconds, file, line, found }) => {
      const place = [file, line].filter((part) => part !== null).join(':');
      return `    ${kind} ×${count} ${[at, place, seconds ? `${seconds} s` : '', found ?? ''].filter(Boolean).join(', ')}`;
    }),
    ...(open(report).length ? ['  what this log cannot decide'] : []),
    ...open(report).map(({ check, reason }) => `    ${check}: ${reason}`),
  ];
}
