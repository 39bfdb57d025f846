import type { Finding } from '../../model/finding.ts';
import { type CheckContext, rigFinding } from '../check.ts';

/** File systems whose files are on another machine, or on the host of a virtual one. Names as in mountinfo. */
const remote =
  /^(?:nfs\d?|cifs|smb3|smbfs|9p|virtiofs|vboxsf|ceph|afs|coda|lustre|beegfs|orangefs|davfs|fuse\.(?:sshfs|rclone|glusterfs|ceph|davfs|s3fs|vmhgfs-fuse|gvfsd-fuse))$/;

/** Results and scratch files lie on a drive of this machine. */
export function checkNetworkDrive({ condition }: CheckContext): readonly Finding[] {
  const { resultsFileSystem, scratchFileSystem } = condition;
  return [
    ...onNetwork('results', resultsFileSystem, 'choose a folder of this machine with --results'),
    ...onNetwork(
      'scratch files',
      scratchFileSystem,
      'choose a folder of this machine with --scratch',
    ),
  ];
}

function onNetwork(what: string, type: string | null, remedy: string): readonly Finding[] {
  if (type === null || !remote.test(type)) return [];
  const message = `${what} would go to a drive of another machine (${type})`;
  return [rigFinding('network-drive', 'warn', message, remedy)];
}
