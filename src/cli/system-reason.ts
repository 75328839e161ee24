/** What the operating system says when it refuses, in words for people. */

/** The system's error code ("ENOSPC"), if the error carries one. */
export function systemCode(error: unknown): string | undefined {
  return error instanceof Error && "code" in error && typeof error.code === "string" ? error.code : undefined;
}

/** The reason in plain words; an error that is not the system's is a fault of ours and is thrown on. */
export function systemReason(error: unknown): string {
  const code = systemCode(error);
  if (code === undefined || !/^E[A-Z0-9]+$/.test(code)) throw error;
  return SYSTEM_REASONS[code] ?? `the system answers ${code}`;
}

const SYSTEM_REASONS: Readonly<Record<string, string>> = {
  EACCES: "permission denied",
  EBUSY: "it is in use, or it is the top folder of a drive",
  EDQUOT: "your share of the drive (quota) is used up",
  EEXIST: "something of this name is there already",
  EFBIG: "a file would be larger than the system allows",
  EIO: "the drive reports an error",
  EISDIR: "it is a folder, not a file",
  ELOOP: "links lead in a circle",
  EMFILE: "too many files are open",
  ENAMETOOLONG: "the name is too long",
  ENFILE: "too many files are open",
  ENOENT: "there is no such file or folder",
  ENOSPC: "no space left on the drive",
  ENOTDIR: "a part of the path is a file, not a folder",
  EPERM: "permission denied",
  EROFS: "the drive is read-only",
  EXDEV: "it is the top folder of a drive",
};
