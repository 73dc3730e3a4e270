import { createPrivateKey, createPublicKey, generateKeyPairSync, type KeyObject, randomBytes, sign } from 'node:crypto';
import {
  chmodSync,
  closeSync,
  fsyncSync,
  linkSync,
  lstatSync,
  mkdirSync,
  openSync,
  readFileSync,
  renameSync,
  rmSync,
  unlinkSync,
  writeSync,
} from 'node:fs';
import { dirname, join } from 'node:path';
import { fingerprintOf, publicKeyOfInfo, type Signer } from '../../core/certificate/signature.ts';
import { Problem, problem, wordsOf } from '../../core/problem/problem.ts';
import { codeOf } from '../codeOf.ts';

/** The key of a station. */
export interface StationKey extends Signer {
  fingerprint: string;
  /** PEM of the public half, to be handed out. */
  publicPem: string;
  /** The file of that. */
  publicFile: string;
}

const FOLDER = 'keys';
const PRIVATE = 'station-key.pem';
const PUBLIC = 'station-key.pub.pem';
const OWNER_ONLY = 0o600;
const OWNERS_FOLDER = 0o700;
const PUBLIC_MODE = 0o644;
const OTHERS = 0o077;

/** Where the public half of a station's key lies, in its data folder. */
export function publicKeyFile(dataFolder: string): string {
  return join(dataFolder, FOLDER, PUBLIC);
}

/**
 * The Ed25519 key a station signs by, made at its first start: PKCS #8 (RFC 8410) in a folder and a file that only their owner can
 * read, whole or not at all and never over a file that is there. Its public half lies beside it.
 * @throws problems key-exposed where others could read it, key-unusable
 */
export function openStationKey(dataFolder: string): StationKey {
  const folder = join(dataFolder, FOLDER);
  const [privateFile, publicFile] = [join(folder, PRIVATE), publicKeyFile(dataFolder)];
  try {
    mkdirSync(folder, { recursive: true, mode: OWNERS_FOLDER });
    if (!isThere(privateFile)) {
      // A public key that was handed out must not quietly become another one.
      if (isThere(publicFile)) throw problem('key-unusable', privateFile, `it is missing, but ${publicFile} is there`);
      writeNew(
        privateFile,
        generateKeyPairSync('ed25519').privateKey.export({ type: 'pkcs8', format: 'pem' }),
        OWNER_ONLY,
      );
    }
    mustBeOwnersOnly(folder, privateFile);
    const privateKey = createPrivateKey(readFileSync(privateFile));
    const publicKey = createPublicKey(privateKey);
    const hex = publicKeyOf(publicKey);
    if (hex === null) throw problem('key-unusable', privateFile, 'it is no Ed25519 key');
    const publicPem = publicKey.export({ type: 'spki', format: 'pem' }).toString();
    if (!isThere(publicFile)) writeNew(publicFile, publicPem, PUBLIC_MODE);
    else if (publicKeyInPem(readFileSync(publicFile)) !== hex)
      throw problem('key-unusable', publicFile, `it is not the public half of ${privateFile}`);
    return {
      publicKey: hex,
      fingerprint: fingerprintOf(hex),
      publicPem,
      publicFile,
      sign: (message) => sign(null, message, privateKey),
    };
  } catch (thrown) {
    if (thrown instanceof Problem) throw thrown;
    throw problem('key-unusable', privateFile, wordsOf(thrown));
  }
}

/** The Ed25519 public key in a PEM file, 64 characters of hex; null where there is none. */
export function publicKeyInPem(pem: Buffer): string | null {
  try {
    return publicKeyOf(createPublicKey(pem));
  } catch {
    return null;
  }
}

function publicKeyOf(key: KeyObject): string | null {
  return publicKeyOfInfo(key.export({ type: 'spki', format: 'der' }));
}

/** Whether anything has this name, be it a link that leads nowhere. */
function isThere(file: string): boolean {
  return lstatSync(file, { throwIfNoEntry: false }) !== undefined;
}

/** Into a temporary neighbour, to the disk, then under its name, unless that was taken meanwhile. */
function writeNew(file: string, text: string | Buffer, mode: number): void {
  const temporary = `${file}.${randomBytes(8).toString('hex')}.part`;
  try {
    const handle = openSync(temporary, 'wx', mode);
    try {
      writeSync(handle, text.toString());
      fsyncSync(handle);
    } finally {
      closeSync(handle);
    }
    link(temporary, file);
    syncFolder(dirname(file));
  } finally {
    rmSync(temporary, { force: true });
  }
}

/** A key that signed something must not be gone after a power cut. Windows has no such call for folders and needs none. */
function syncFolder(folder: string): void {
  if (process.platform === 'win32') return;
  const handle = openSync(folder, 'r');
  try {
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}

function link(temporary: string, file: string): void {
  try {
    linkSync(temporary, file);
  } catch (thrown) {
    // Another program of this user was first: its key is the key.
    if (codeOf(thrown) === 'EEXIST') return;
    if (!['EPERM', 'ENOTSUP', 'ENOSYS', 'EOPNOTSUPP'].includes(codeOf(thrown) ?? '')) throw thrown;
    closeSync(openSync(file, 'wx', OWNER_ONLY));
    renameSync(temporary, file);
  }
}

/** @throws problem key-exposed; key-unusable where it is no file */
function mustBeOwnersOnly(folder: string, file: string): void {
  const facts = lstatSync(file);
  if (!facts.isFile()) throw problem('key-unusable', file, 'it is no file, but a link or something else');
  // Windows keeps a user's own folders from others by itself, and has no such modes.
  if (process.platform === 'win32') return;
  if (facts.uid !== process.getuid?.()) throw problem('key-exposed', file, 'it belongs to another user');
  for (const [path, mode] of [
    [file, facts.mode],
    [folder, lstatSync(folder).mode],
  ] as const) {
    if ((mode & OTHERS) !== 0 && keepsModes(folder)) {
      throw problem('key-exposed', path, `its mode is ${(mode & 0o777).toString(8)}`);
    }
  }
}

/** Whether the file system has modes at all: on FAT and its like every file seems to be everybody's, and nothing can be done. */
function keepsModes(folder: string): boolean {
  const probe = join(folder, `.${randomBytes(8).toString('hex')}.part`);
  closeSync(openSync(probe, 'wx', OWNER_ONLY));
  try {
    chmodSync(probe, OWNER_ONLY);
    return (lstatSync(probe).mode & OTHERS) === 0;
  } finally {
    unlinkSync(probe);
  }
}
