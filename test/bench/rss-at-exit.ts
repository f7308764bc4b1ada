import { writeFileSync } from 'node:fs';
import { resourceUsage } from 'node:process';

/** Imported before a command: writes its greatest resident memory, kB, to the file RSS_FILE names when it ends. */

const file = process.env.RSS_FILE;
if (file) process.on('exit', () => writeFileSync(file, String(resourceUsage().maxRSS)));
