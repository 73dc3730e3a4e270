import { createPrivateKey, sign } from 'node:crypto';
import type { Signer } from '../core/certificate/signature.ts';

/** The private keys and public keys of RFC 8032, 7.1, tests 1 and 2: published, so nobody takes them for real ones. */
const RFC_8032 = {
  first: {
    secret: '9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60',
    public: 'd75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a',
  },
  second: {
    secret: '4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb',
    public: '3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c',
  },
};

/** What stands before the 32 bytes of an Ed25519 private key in PKCS #8 (RFC 8410, 7). */
const PKCS_8 = '302e020100300506032b657004220420';

function signerOf({ secret, public: publicKey }: (typeof RFC_8032)['first']): Signer {
  const key = createPrivateKey({ key: Buffer.from(PKCS_8 + secret, 'hex'), format: 'der', type: 'pkcs8' });
  return { publicKey, sign: (message) => sign(null, message, key) };
}

/** Signs by Node's own crypto, not by the library that verifies. */
export const SIGNER = signerOf(RFC_8032.first);

/** Somebody else, who has another key. */
export const FORGER = signerOf(RFC_8032.second);
