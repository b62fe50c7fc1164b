/**
 * What the build has left beside the page: an example with its sound, and the common beats. Needs no engine.
 */

/**
 * Fetch one of the stored files.
 * @param {string} folder @param {string} name @returns {Promise<any>} null if it is not there
 */
export async function fetchStored(folder, name) {
  try {
    const answer = await fetch(new URL(folder + name, document.baseURI));
    return answer.ok ? await answer.json() : null;
  } catch {
    return null;
  }
}
