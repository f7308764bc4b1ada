import { register } from 'node:module';
import { pathToFileURL } from 'node:url';

/**
 * Loaded before a program (`--import`), it writes the address of every module the program loads, a line each,
 * into the file that `RECORD_MODULES_IN` names. Nothing is changed in how modules are found.
 */

/** Runs in the thread of the loader, as plain JavaScript. */
const hook = `
import { appendFileSync } from 'node:fs';
let file;
export const initialize = (data) => { file = data; };
export const resolve = async (specifier, context, next) => {
  const found = await next(specifier, context);
  appendFileSync(file, found.url + '\\n');
  return found;
};`;

const file = process.env.RECORD_MODULES_IN;
if (file) {
  register(`data:text/javascript,${encodeURIComponent(hook)}`, {
    parentURL: pathToFileURL(import.meta.filename),
    data: file,
  });
}
