#!/usr/bin/env node
import { setEngine } from '../node/engine.ts';
import { run } from './run.ts';
import { processTerminal } from './terminal.ts';

setEngine();

process.exitCode = await run(process.argv.slice(2), processTerminal());
