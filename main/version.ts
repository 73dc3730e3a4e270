import about from '../package.json' with { type: 'json' };

/** This program's version, from package.json. */
export const VERSION: string = about.version;
