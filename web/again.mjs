// A script that did not come may be asked for again. Chromium before 149 or so, and Firefox, remember until the page is
// loaded anew that an import failed, and do not ask a second time: so each further try asks under an address of its own.

/** What a built script says where it fetches another one when that is wanted. */
const LATER = /\bimport\(("\.\/[\w-]+\.js")\)/g;

/** Goes with every script that says it. The number of failed tries is part of the address. */
const again = `
const lieflatMissed=new Map();
function lieflatAgain(address,get){const tries=lieflatMissed.get(address)??0;
return get(tries?address+"?again="+tries:address).catch(error=>{lieflatMissed.set(address,tries+1);throw error})}
`;

/**
 * A built script whose later imports can be tried again.
 * Its name, made of its content before, does not tell of this: a change here alone would reach nobody who has the script, and would harm nobody.
 * @param {string} text
 */
export function askingAgain(text) {
  const changed = text.replace(LATER, 'lieflatAgain($1,at=>import(at))');
  return changed === text ? text : changed + again;
}
