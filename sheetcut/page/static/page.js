// Makes the page smoother; without it every place works by forms and links alone.
"use strict";

const BACK_TO_IT_MS = 500;
const SWIPE_PX = 60;

/** Follows a plan being made, and shows it once it is there. */
async function follow(place) {
  try {
    const answer = await fetch(place.dataset.poll, { headers: { Accept: "application/json" } });
    if (!answer.ok) return;
    const now = await answer.json();
    if (!now.running) { location.reload(); return; }
    if (place.textContent !== now.words) place.textContent = now.words;
  } catch { return; }
  setTimeout(follow, BACK_TO_IT_MS, place);
}

function go(way) {
  const link = document.querySelector(`a[rel="${way}"]`);
  if (link) link.click();
}

/** Steps by keyboard: the keys a page turner sends, too. */
function byKeyboard(event) {
  if (event.altKey || event.ctrlKey || event.metaKey) return;
  if (event.target.closest("input, select, textarea")) return;
  if (["ArrowRight", "PageDown"].includes(event.key)) { event.preventDefault(); go("next"); }
  if (["ArrowLeft", "PageUp"].includes(event.key)) { event.preventDefault(); go("prev"); }
}

/** Steps by a stroke of the finger. */
function byTouch(mat) {
  let from = null;
  mat.addEventListener("touchstart", (event) => {
    from = event.touches.length === 1 ? event.touches[0] : null;
  }, { passive: true });
  mat.addEventListener("touchend", (event) => {
    if (!from) return;
    const to = event.changedTouches[0];
    const across = to.clientX - from.clientX;
    if (Math.abs(across) > SWIPE_PX && Math.abs(across) > 2 * Math.abs(to.clientY - from.clientY)) {
      go(across < 0 ? "next" : "prev");
    }
    from = null;
  }, { passive: true });
}

/** Keeps the screen lit while somebody cuts, where the browser can. */
async function stayAwake() {
  try { await navigator.wakeLock?.request("screen"); } catch { /* it may be refused; cut on */ }
}

/** Takes a file that is dropped anywhere on the page as if it had been chosen. */
function byDropping(field) {
  document.addEventListener("dragover", (event) => {
    if (event.dataTransfer.types.includes("Files")) event.preventDefault();
  });
  document.addEventListener("drop", (event) => {
    if (!event.dataTransfer.types.includes("Files")) return;
    event.preventDefault();
    if (event.dataTransfer.files.length !== 1) return;
    field.files = event.dataTransfer.files;
    field.form.requestSubmit();
  });
}

const trying = document.querySelector("[data-poll]");
if (trying) setTimeout(follow, BACK_TO_IT_MS, trying);
const mat = document.querySelector(".mat");
if (mat) { byTouch(mat); stayAwake(); }
if (document.querySelector('a[rel="next"], a[rel="prev"]')) {
  document.addEventListener("keydown", byKeyboard);
}
const file = document.querySelector("input[type=file]");
if (file) byDropping(file);
const wrong = document.querySelector("[aria-invalid]");
if (wrong) wrong.focus();
