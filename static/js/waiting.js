// What this phone still has to send, what was refused, and which tags have to be written anew.
"use strict";

const still = document.getElementById("phone-queue");
// Where one taps shirt after shirt, what is only on its way is told above, so that nothing moves under the thumb.
const above = document.getElementById("unsent");
const row = document.getElementById("phone-line");
let fault = "";
let before = { taps: 0, photos: 0 };

async function showQueue(event) {
  if (event?.detail) fault = event.detail.fault ?? fault;
  const lines = await phone.lines();
  const unsent = lines.filter((line) => ["waiting", "photo"].includes(line.state));
  const asking = lines.filter((line) => ["refused", "told"].includes(line.state));
  const words = unsent.length ? `On this phone, ${unsent.length} still to send.` : "";
  const isOnlyOnItsWay = above && !fault;
  if (above) Object.assign(above, { hidden: !words, textContent: words.slice(0, -1) });
  still.hidden = !asking.length && (!words || isOnlyOnItsWay);
  still.querySelector("p").textContent = isOnlyOnItsWay || !words ? "" : `${words} ${fault}`;
  still.querySelector("ul").replaceChildren(...asking.map(asked));
  const now = { taps: unsent.filter((line) => line.state === "waiting").length, photos: 0 };
  now.photos = unsent.length - now.taps;
  const isNews = (before.taps && !now.taps) || (before.photos && !now.photos);
  before = now;
  // A page that shows the count shows it anew when the last line, or the last photo, has arrived.
  if (isNews && "refresh" in still.dataset) location.reload();
}

function asked(line) {
  const item = row.content.cloneNode(true).firstElementChild;
  const tag = line.pile ? "the pile" : String(line.number).padStart(2, "0");
  const isPhoto = line.refused === "photo";
  const sentence = isPhoto ? `The photo of ${tag} was not taken. ` : `${tag} was not taken. `;
  item.querySelector("span").textContent = line.state === "told" ? line.said : sentence + line.fault;
  const [mend, drop] = item.querySelectorAll("button");
  if (line.state === "told") {
    mend.textContent = "It is written";
    mend.onclick = () => written(line);
    drop.remove();
  } else {
    mend.textContent = isPhoto ? `Go to the ${line.pile ? "bag" : "shirt"}` : "Change it";
    mend.onclick = () => (isPhoto ? location.assign(line.address) : change(line));
    mend.hidden = !isPhoto && !document.querySelector("form[data-lines]");
    drop.onclick = () => letGo(line);
  }
  return item;
}

async function written(line) {
  const answer = await sender.post(`${line.address}tag/`, new FormData(), 20_000).catch(() => null);
  if (answer) await letGo(line);
}

async function change(line) {
  await phone.drop(line.id);
  document.dispatchEvent(new CustomEvent("phone-change", { detail: { ...line, id: line.id } }));
  showQueue();
}

async function letGo(line) {
  await phone.drop(line.id);
  showQueue();
}

document.addEventListener("phone-queue", showQueue);
phone.open().then(() => { showQueue(); sender.run(); }, () => {});
