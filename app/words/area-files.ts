/** The words of an area: texts by key, in groups. */
export type Words = { [key: string]: string | Words };

/** How to fetch the words of each area of a language, by the path of its file. */
export type AreaFiles = Record<string, () => Promise<{ default: Words }>>;
