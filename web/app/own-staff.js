/**
 * Whether a beat is shown on a staff too, and what stands below it, remembered by the browser: never in a link, never in
 * a file, never undone.
 */

const KEY = "groundbeat.staff";

/** @typedef {{ on: boolean, counts: boolean, sticking: boolean }} StaffLook */

/** Without a staff; with one, with its counts. Our choice. @type {StaffLook} */
export const PLAIN = Object.freeze({ on: false, counts: true, sticking: false });

/** What was set last. @returns {StaffLook} */
export function storedStaff() {
  try {
    const { on, counts, sticking } = JSON.parse(localStorage.getItem(KEY) ?? "{}");
    if ([on, counts, sticking].every((one) => typeof one === "boolean")) return { on, counts, sticking };
  } catch {
    // A private window or a frame may have no storage; what is there may be somebody else's.
  }
  return PLAIN;
}

/** Remember it; without storage it is kept until the page is left. @param {StaffLook} staff */
export function storeStaff(staff) {
  try {
    localStorage.setItem(KEY, JSON.stringify(staff));
  } catch {
    // Then it is set anew at the next visit.
  }
}
