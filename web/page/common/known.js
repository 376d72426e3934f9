// Tables that are looked up by a word from outside: of an address, an attribute, a brief, or what a browser stored.

/** What a table has under a name; nothing for what every object has by itself, such as `constructor`. */
export const known = (table, name) => (Object.hasOwn(table, name) ? table[name] : undefined);
