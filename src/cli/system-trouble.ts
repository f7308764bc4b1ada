import type { SystemFault, Trouble } from '../errors/file-fault.ts';

/** By the system's own codes (POSIX.1-2017, §2.3, and the C library's beyond it). */
const FAULTS: Readonly<Record<string, SystemFault>> = {
  ENOENT: 'no-such-file',
  EACCES: 'not-allowed',
  EPERM: 'not-allowed',
  EROFS: 'read-only',
  ENOSPC: 'disk-full',
  EDQUOT: 'share-full',
  EFBIG: 'too-large',
  EEXIST: 'name-taken',
  ENOTDIR: 'file-for-folder',
  EISDIR: 'is-folder',
  ENOTEMPTY: 'folder-in-place',
  ENAMETOOLONG: 'name-too-long',
  ELOOP: 'links-in-ring',
  EMFILE: 'too-many-open',
  ENFILE: 'too-many-open',
  EBUSY: 'in-use',
  ETXTBSY: 'in-use',
  EIO: 'device-failed',
  ENXIO: 'device-failed',
  ENODEV: 'device-failed',
  ESTALE: 'connection-lost',
  ETIMEDOUT: 'connection-lost',
  EINVAL: 'not-taken',
  EXDEV: 'two-disks',
};

/** Why the system refused to read or write, as far as it says. */
export function systemTrouble(thrown: unknown, doing: 'reading' | 'writing'): Trouble {
  const { code = '', message } = thrown as NodeJS.ErrnoException;
  const is = FAULTS[code];
  if (is === 'no-such-file' && doing === 'writing') return { is: 'no-such-folder' };
  return is ? { is } : { is: 'said', words: message ?? String(thrown) };
}
