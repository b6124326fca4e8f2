import { setEngine } from '../node/engine.ts';
import { run } from './run.ts';
import { processTerminal } from './terminal.ts';

setEngine();

run(process.argv.slice(2), processTerminal()).then((code) => {
  process.exitCode = code;
});
