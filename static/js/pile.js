// The photo of a pile waits on this phone like those of shirts: the count is sent without it, and it follows
// when the bag has come in. Where nothing can be kept, it goes with the form.
"use strict";

const arriving = document.querySelector("form.arrival");
const WEEK = 7 * 24 * 3600 * 1000;

async function hold(file) {
  await phone.keep({
    id: arriving.elements.client_id.value, photoId: randomId(), photo: await file.arrayBuffer(), type: file.type,
    state: "held", at: arriving.dataset.piles, number: "", pile: true, kept: Date.now(),
  });
}

async function give(event) {
  const input = arriving.elements.photo;
  const file = input.files[0];
  if (!file) return;
  event.preventDefault();
  await hold(file).then(() => { input.value = ""; }, () => {});
  arriving.submit();
}

// A form that did not arrive is filled in anew: the photo goes with the new one. One whose bag did come in was let
// go by the page that shows the bag.
async function takeUpWhatIsHeld() {
  for (const line of await phone.lines()) {
    if (line.state !== "held") continue;
    const isOld = Date.now() - line.kept > WEEK;
    if (!isOld && line.at !== arriving.dataset.piles) continue;
    await phone.drop(line.id);
    if (isOld) continue;
    await phone.keep({ ...line, id: arriving.elements.client_id.value });
    document.querySelector("[data-pile-kept]").hidden = false;
  }
}

async function follow() {
  const came = new Map([...document.querySelectorAll("[data-came]")].map((place) => [place.dataset.came, place.dataset.room]));
  const held = (await phone.lines()).filter((line) => line.state === "held" && came.has(line.id));
  for (const line of held) await phone.keep({ ...line, state: "photo", address: came.get(line.id) });
  if (held.length) sender.run();
}

phone.open().then(follow, () => {});
if (arriving) {
  arriving.addEventListener("submit", give);
  phone.open().then(takeUpWhatIsHeld, () => {});
}
