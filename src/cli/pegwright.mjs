#!/usr/bin/env node
import { pathToFileURL } from 'node:url';
import { freshBundle } from './bundle.mjs';

/** Runs the command line from its bundle. */
await import(pathToFileURL(await freshBundle()).href);
