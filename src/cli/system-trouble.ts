/** What the system refused, in words: why, and what to do about it. */
export interface SystemTrouble {
  reason: string;
  advice: string;
}

const CHECK_NAME = 'check its name and folder';
const ASK_RIGHTS = 'ask for the right to, or choose another place';
const MAKE_ROOM = 'make room, or choose another place';
const CHOOSE = 'choose another place';
const CLOSE = 'close what has it open and try again';
const DEVICE = 'check the disk or the connection and try again';

/** By the system's own codes (POSIX.1-2017, §2.3, and the C library's beyond it). */
const TROUBLES: Record<string, SystemTrouble> = {
  ENOENT: { reason: 'there is no such file', advice: CHECK_NAME },
  EACCES: { reason: 'that is not allowed', advice: ASK_RIGHTS },
  EPERM: { reason: 'that is not allowed', advice: ASK_RIGHTS },
  EROFS: { reason: 'the disk can only be read', advice: CHOOSE },
  ENOSPC: { reason: 'the disk is full', advice: MAKE_ROOM },
  EDQUOT: { reason: 'your share of the disk is full', advice: MAKE_ROOM },
  EFBIG: { reason: 'it would be larger than the system takes', advice: 'choose another disk' },
  EEXIST: { reason: 'something else has that name', advice: CHOOSE },
  ENOTDIR: { reason: 'a file stands where a folder should be', advice: CHECK_NAME },
  EISDIR: { reason: 'it is a folder', advice: 'name a file' },
  ENOTEMPTY: { reason: 'a folder has that name', advice: CHOOSE },
  ENAMETOOLONG: { reason: 'the name is too long', advice: 'choose a shorter one' },
  ELOOP: { reason: 'links there lead round in a ring', advice: CHECK_NAME },
  EMFILE: { reason: 'too many files are open', advice: CLOSE },
  ENFILE: { reason: 'too many files are open', advice: CLOSE },
  EBUSY: { reason: 'something else is using it', advice: CLOSE },
  ETXTBSY: { reason: 'something else is using it', advice: CLOSE },
  EIO: { reason: 'the device failed', advice: DEVICE },
  ENXIO: { reason: 'the device failed', advice: DEVICE },
  ENODEV: { reason: 'the device failed', advice: DEVICE },
  ESTALE: { reason: 'the connection to it was lost', advice: DEVICE },
  ETIMEDOUT: { reason: 'the connection to it was lost', advice: DEVICE },
  EINVAL: { reason: 'the system takes no such file there', advice: CHOOSE },
  EXDEV: { reason: 'it lies across two disks', advice: CHOOSE },
};

/** Why the system refused to read or write, as far as it says. */
export function systemTrouble(thrown: unknown, doing: 'reading' | 'writing'): SystemTrouble {
  const { code = '', message } = thrown as NodeJS.ErrnoException;
  const known = TROUBLES[code];
  if (known && code === 'ENOENT' && doing === 'writing')
    return { reason: 'there is no such folder, and none can be made there', advice: CHOOSE };
  return known ?? { reason: message ?? `${doing} failed`, advice: doing === 'reading' ? CHECK_NAME : CHOOSE };
}
