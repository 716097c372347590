// Logging on a phone: the photo is shown and made smaller, the line is kept here at once, and the camera
// opens for the next shirt; sending goes on behind it. Without this script the form is sent as it is.
"use strict";

const form = document.querySelector("form[data-lines]");
const input = document.getElementById("id_photo");
const canvas = document.getElementById("preview");
const words = document.getElementById("photo-said");
const CARRIED = ["kind", "keep"];
let current = fresh();
let given = Number(form.dataset.logged);

function fresh() {
  return { id: randomId(), photoId: randomId(), photo: null, type: "", state: "draft", isTouched: false, shrinking: null };
}

phone.open().then(begin, () => { /* No room to keep lines on this phone: the form is sent as it is. */ });

input.addEventListener("change", () => {
  const file = input.files[0];
  canvas.hidden = true;
  words.hidden = !file;
  if (!file) return;
  words.textContent = "Photo taken. Tap it to take another.";
  const line = current;
  line.isTouched = true;
  line.shrinking = shrink(file, canvas).then(({ bytes, type, isDrawn }) => {
    Object.assign(line, { photo: bytes, type });
    if (line !== current) return;
    canvas.hidden = !isDrawn;
    if (!isDrawn) words.textContent = "Photo taken. This browser cannot show it before it is sent.";
    keepDraft();
  });
});

async function begin() {
  form.dataset.file = "";
  form.addEventListener("submit", give);
  form.addEventListener("change", (event) => {
    if (event.target === input) return;
    current.isTouched = true;
    keepDraft();
  });
  const lines = await phone.lines();
  const mine = lines.filter((line) => line.at === form.dataset.lines);
  given += mine.filter((line) => line.state === "waiting").length;
  offer(Math.max(0, ...mine.map((line) => Number(line.number) || 0)) + 1);
  const bag = form.elements.bag.value;
  const draft = mine.find((line) => line.state === "draft" && new Map(line.fields).get("bag") === bag);
  if (draft) takeUp(draft);
  say();
  sender.run();
}

// The form is given: the line is kept, the form stands ready for the next one, and the camera opens.
function give(event) {
  event.preventDefault();
  const isLast = event.submitter?.name === "last";
  const line = current;
  if (line.isTouched) {
    store(line, "waiting");
    given += 1;
    current = fresh();
    offer(Number(form.elements.number.value) + 1);
    startAnew();
  }
  if (isLast) {
    Promise.resolve(line.stored).then(() => { location.assign(form.dataset.room); });
  } else {
    input.click();
  }
}

function store(line, state) {
  Object.assign(line, { state, at: form.dataset.lines, fields: fields(line), number: form.elements.number.value });
  line.kept ??= Date.now();
  line.stored = Promise.resolve(line.shrinking)
    .then(() => phone.keep(plain(line)))
    .then(() => { if (state === "waiting") sender.run(); })
    .finally(say);
}

function plain({ id, photoId, photo, type, state, at, fields: said, number, kept }) {
  return { id, photoId, photo, type, state, at, fields: said, number, kept };
}

function keepDraft() {
  if (current.isTouched) store(current, "draft");
}

function fields(line) {
  const said = new FormData(form);
  said.delete("photo");
  said.delete("csrfmiddlewaretoken");
  said.set("client_id", line.id);
  return [...said];
}

// What lies on one pile is mostly alike, so kind and side stay; how a print feels is felt each time.
function startAnew() {
  const carried = new FormData(form);
  const number = form.elements.number.value;
  form.reset();
  CARRIED.forEach((name) => { form.elements[name].value = carried.get(name); });
  form.elements.feel.value = "unknown";
  ["blend", "fibres", "smell", "pockets", "found", "flaws", "story", "apart"].forEach((name) => {
    form.elements[name].value = "";
  });
  form.elements.garments.value = "1";
  form.elements.guest.checked = false;
  form.elements.number.value = form.elements.offered.value = number;
  form.querySelector("details").open = false;
  canvas.hidden = words.hidden = true;
  window.scrollTo(0, 0);
}

function offer(number) {
  const at = Math.max(number, Number(form.elements.number.value));
  form.elements.offered.value = at;
  form.elements.number.value = String(at).padStart(2, "0");
  document.querySelectorAll("[data-next]").forEach((place) => { place.textContent = form.elements.number.value; });
}

// Put a line that waits here back into the form, as it was tapped.
async function takeUp(line) {
  current = { ...line, isTouched: true, state: "draft", shrinking: null };
  form.reset();
  line.fields.forEach(([name, value]) => {
    const field = form.elements[name];
    if (field?.type === "checkbox") field.checked = true;
    else if (field) field.value = value;
  });
  if (!line.photo) return;
  const { isDrawn } = await shrink(new Blob([line.photo], { type: line.type }), canvas);
  canvas.hidden = !isDrawn;
  words.hidden = false;
  words.textContent = "The photo is kept on this phone. Tap it to take another.";
}

function say() {
  document.getElementById("logged").textContent = `${given} logged`;
  const left = Number(form.dataset.counted) - given;
  document.getElementById("to-go").textContent = left > 0 ? `${left} of ${form.dataset.counted} to go` : form.dataset.after;
}

// Another phone may have gone on counting. A tag that was shown for a shirt under way is left as it is.
document.addEventListener("phone-next", (event) => {
  if (!current.isTouched) offer(event.detail);
});

document.addEventListener("phone-change", (event) => {
  given -= 1;
  takeUp(event.detail);
  say();
});
