#!/usr/bin/env node
import { setFlagsFromString } from 'node:v8';
import { run } from './run.ts';
import { processTerminal } from './terminal.ts';

// Most of the program runs for a fraction of a second: optimising it as early as usual takes longer than it saves. Loops
// over samples are reached all the same. The default is some 70,000. Later versions of V8 than that of Node 20 do not know
// the flag, and would say so on standard error.
if (process.versions.v8.startsWith('11.')) setFlagsFromString('--interrupt-budget=1000000');

process.exitCode = await run(process.argv.slice(2), processTerminal());
