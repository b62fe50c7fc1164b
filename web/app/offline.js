/**
 * Keeping the page for days without a network: registers the service worker once the engine is ready.
 *
 * A browser or frame that forbids it loses nothing else, so every failure is passed over.
 */

/** @returns {Promise<boolean>} whether the page can now be opened without a network */
export async function keepForOffline() {
  try {
    if (!("serviceWorker" in navigator) || !isSecureContext) return false;
    await navigator.serviceWorker.register("./sw.js");
    return true;
  } catch {
    return false;
  }
}
