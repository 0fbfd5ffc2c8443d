import type { AreaFiles, Words } from '../area-files.ts';

/** The files of this language; a list of its own, so that no phone fetches the lists of languages it does not speak. */
export const files: AreaFiles = import.meta.glob<{ default: Words }>('../../../locales/vi/*.json');
