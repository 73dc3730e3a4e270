import './certifyScreen.css';
import { formatTime } from '../words/time.ts';

/** A file the station has written: where, its digest, and how anybody can check it. */
export function FileFacts(props: {
  file: string;
  sha256: string;
  /** Fingerprint of the key it is signed by, where that is known. */
  signedBy?: string | null;
  /** When it was written, where that is known. */
  at?: string;
  /** What checking it does, after "on any computer:". */
  checks: string;
}) {
  const { file, sha256, signedBy, at, checks } = props;
  return (
    <dl className="certify-facts">
      <dt>File</dt>
      <dd className="machine">{file}</dd>
      <dt>SHA-256</dt>
      <dd className="machine certify-digest">{inGroups(sha256)}</dd>
      {signedBy && (
        <>
          <dt>Signed by</dt>
          <dd className="small">
            this station’s key, fingerprint <span className="machine certify-digest">{inGroups(signedBy)}</span>
          </dd>
        </>
      )}
      {at !== undefined && (
        <>
          <dt>Written</dt>
          <dd>{formatTime(at)}</dd>
        </>
      )}
      <dt>To check it</dt>
      <dd>
        <code className="machine">npx reelohm verify "{file}"</code>
        <span className="quiet small certify-line">in this program’s folder, on any computer: {checks}</span>
      </dd>
    </dl>
  );
}

/** A digest in groups of eight, so that two can be compared by eye. */
function inGroups(sha256: string) {
  return sha256.match(/.{1,8}/g)?.map((group, index) => (
    // biome-ignore lint/suspicious/noArrayIndexKey: groups do not move
    <span key={index}>{group}</span>
  ));
}
