// The bench on a tablet: one piece after the other, by tap, arrow key, pedal (page down) or scanner; a batch is
// tapped as a whole and goes on without a network; the screen stays awake. Every form works without this.
"use strict";

const waiting = document.getElementById("bench-waiting");
const away = new Set();

function step(batch, by) {
  const pieces = [...batch.querySelectorAll("[data-piece]")];
  const at = pieces.findIndex((piece) => piece.classList.contains("is-here"));
  show(batch, Math.max(0, Math.min(pieces.length - 1, at + by)));
  if (at + by >= pieces.length) batch.querySelector(".main")?.focus();
}

function show(batch, at) {
  const pieces = [...batch.querySelectorAll("[data-piece]")];
  pieces.forEach((piece, number) => piece.classList.toggle("is-here", number === at));
  batch.querySelectorAll("[data-bead]").forEach((bead, number) => {
    bead.classList.toggle("is-seen", number < at);
    bead.classList.toggle("is-here", number === at);
  });
  const place = batch.querySelector("[data-place]");
  if (place) place.textContent = pieces.length > 1 ? `${at + 1} of ${pieces.length}` : "";
  batch.querySelectorAll("[data-step]").forEach((button) => {
    button.disabled = Number(button.dataset.step) < 0 ? at === 0 : at >= pieces.length - 1;
  });
}

const batches = [...document.querySelectorAll("[data-batch]")];

function current() {
  return batches.find((batch) => !batch.hidden);
}

function begin() {
  batches.forEach((batch, number) => {
    batch.hidden = number > 0;
    batch.classList.add("stepping");
    batch.querySelectorAll("[data-steps]").forEach((row) => { row.hidden = batch.querySelectorAll("[data-piece]").length < 2; });
    show(batch, 0);
    batch.addEventListener("click", (event) => {
      const button = event.target.closest("[data-step]");
      if (button) step(batch, Number(button.dataset.step));
      const bead = event.target.closest("[data-bead]");
      if (bead) show(batch, [...batch.querySelectorAll("[data-bead]")].indexOf(bead));
    });
  });
}

// A scanner types a tag and sends Enter, much faster than hands. A tag of this batch is shown large.
let typed = "", last = 0;

function scanned(code) {
  const batch = current();
  const name = decodeURIComponent(code).trim().toUpperCase().split("/").filter(Boolean).pop() ?? "";
  const pieces = [...(batch?.querySelectorAll("[data-piece]") ?? [])];
  const at = pieces.findIndex((piece) => piece.dataset.piece.toUpperCase() === name);
  if (at >= 0) show(batch, at);
  say(at >= 0 ? `${pieces[at].dataset.piece} is in this pile.` : `${name} is not in this pile. Lay it aside.`);
}

document.addEventListener("keydown", (event) => {
  if (event.target.closest?.("input:not([type=checkbox]):not([type=radio]), textarea, select")) return;
  const now = Date.now();
  if (event.key.length === 1 && !event.ctrlKey && !event.metaKey && !event.altKey) {
    typed = (now - last < 80 ? typed : "") + event.key;
    last = now;
    return;
  }
  if (event.key === "Enter" && typed.length >= 5 && now - last < 80) {
    event.preventDefault();
    scanned(typed);
    typed = "";
    return;
  }
  if (event.key === "Escape" && location.hash.startsWith("#not-right")) location.hash = "main";
  const by = { ArrowRight: 1, PageDown: 1, ArrowLeft: -1, PageUp: -1 }[event.key];
  if (by && current()) {
    event.preventDefault();
    step(current(), by);
  }
  if (event.key === "z" && (event.ctrlKey || event.metaKey)) document.querySelector("#said form button")?.click();
});

// A tap is kept here first and then sent; where the network is away the next batch is shown.
document.addEventListener("submit", async (event) => {
  const form = event.target;
  const at = form.dataset.tap;
  if (!at) return;
  event.preventDefault();
  event.stopImmediatePropagation();
  if (form.dataset.sending) return;
  form.dataset.sending = "yes";
  const fields = [...new FormData(form)].filter(([name]) => name !== "csrfmiddlewaretoken");
  const words = event.submitter?.textContent.trim() ?? "";
  const names = [...(form.closest("[data-batch]")?.querySelectorAll("[data-piece]") ?? [])].map((piece) => piece.dataset.piece);
  const tap = { id: benchTaps.randomId(), at, fields, words, names, kept: Date.now(), fault: "" };
  try {
    await benchTaps.keep(tap);
  } catch {
    delete form.dataset.tap;
    form.requestSubmit(event.submitter);
    return;
  }
  const { isAway } = await benchTaps.run();
  if (!isAway) {
    const refused = (await benchTaps.all()).find((each) => each.id === tap.id);
    if (refused) delete form.dataset.sending;
    else location.assign(form.dataset.next || benchTaps.answers.get(tap.id)?.next || location.href);
    return;
  }
  delete form.dataset.sending;
  goOn(form);
}, true);

function goOn(form) {
  const batch = form.closest("[data-batch]");
  if (!batch) return;
  away.add(batch);
  batch.hidden = true;
  const next = batches.find((each) => each !== batch && !away.has(each));
  if (next) next.hidden = false;
  window.scrollTo(0, 0);
}

document.addEventListener("bench-taps", async ({ detail }) => {
  if (!waiting) return;
  const taps = await benchTaps.all();
  const kept = taps.filter((tap) => !tap.fault), refused = taps.filter((tap) => tap.fault);
  waiting.hidden = !taps.length;
  waiting.classList.toggle("late", refused.length > 0 && !kept.length);
  waiting.querySelector("p").textContent = kept.length
    ? `${kept.length} tap${kept.length > 1 ? "s are" : " is"} kept on this tablet until the network is back. Go on working. ${detail.fault}`
    : "Not done.";
  waiting.querySelector("ul").replaceChildren(...refused.map(refusal));
  if (away.size && !detail.isAway && !kept.length && !refused.length) location.reload();
});

function refusal(tap) {
  const line = document.createElement("li");
  const words = document.createElement("span");
  words.textContent = `${tap.words}: ${tap.fault}`;
  const button = document.createElement("button");
  button.type = "button";
  button.className = "button quiet";
  button.textContent = "I have read it";
  button.addEventListener("click", () => benchTaps.drop(tap.id).then(() => { away.clear(); location.reload(); }));
  line.append(words, button);
  return line;
}

// The screen stays awake while the bench is open, where the browser lets it: on https.
async function stayAwake() {
  if (document.hidden || !navigator.wakeLock) return;
  await navigator.wakeLock.request("screen").catch(() => {});
}
document.addEventListener("visibilitychange", stayAwake);
stayAwake();

if (batches.length) begin();
benchTaps.open().then(() => benchTaps.run(), () => {});
