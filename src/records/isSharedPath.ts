/** A folder as its system knows it. */
export interface SystemPath {
  readonly platform: NodeJS.Platform;
  /** The whole path with links and drive letters followed: on Windows a mapped drive is its share then. */
  readonly path: string;
  /** Magic number of its file system where the system has one (Linux, statfs(2)). */
  readonly fileSystem: number | null;
}

/** Magic numbers of file systems that live elsewhere: NFS, SMB, CIFS, SMB2, FUSE, 9p, AFS, Ceph, shared folders of virtual machines (Linux, statfs(2)). */
const NETWORK_MAGIC = [
  0x6969, 0x517b, 0xff534d42, 0xfe534d42, 0x65735546, 0x01021997, 0x5346414f, 0x00c36400, 0x786f4256,
];

/** Whether changes that other machines make in a folder may come without an event. */
export function isSharedPath({ platform, path, fileSystem }: SystemPath): boolean {
  // `\\?\C:\` and `\\.\` are long names of this machine's own disks, `\\?\UNC\` and `\\server` are shares.
  if (platform === "win32") return /^[\\/]{2}(?:\?[\\/]UNC[\\/]|(?![?.][\\/]))/i.test(path);
  // Whatever is mounted there came from outside; a disk on a cable is polled in vain, which costs little.
  if (platform === "darwin") return /^\/(?:Volumes|net|Network)\//.test(path);
  return fileSystem !== null && NETWORK_MAGIC.includes(fileSystem >>> 0);
}
