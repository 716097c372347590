// The picture on the wall by hand and by keyboard. Each block is a link and each move a form, so all of it works without this.
"use strict";

const LONG_PRESS = 350; // ms that a finger rests on a block before it lifts it; until then the page scrolls
const SLACK = 6; // px that a hand may tremble
const FIRST = [".choose select", ".choose input:not([type=hidden])", ".choose button", ".acts a", ".acts button", ".close"];
const EDGE = 56; // px from the edge of the screen where the page goes along with what is dragged

const wall = () => document.getElementById("picture");
const blockOf = (link) => new URL(link.href.baseVal ?? link.href, location.href).searchParams.get(
  wall().dataset.trading ? "other" : "block") ?? wall().dataset.trading;
const links = () => [...wall().querySelectorAll(".big-quilt a")];
const current = () => links().filter((link) => link.hasAttribute("aria-current")).map(blockOf)[0] ?? "";
const linkAt = (x, y) => document.elementFromPoint(x, y)?.closest(".big-quilt a");

let pressed = null; // the block under a finger or the mouse: {link, x, y, id, timer, ghost, over}
let dragged = false; // a click comes after a drag, and means nothing
let hangsAt; // px from the top of the screen to the picture
let goTo = null; // what the keyboard goes on at, once the picture has been swapped

/* one block onto another: they trade places */
function trade(first, second) {
  const form = document.getElementById("dropped");
  if (!form || first === second) return;
  form.elements.block.value = first;
  form.elements.other.value = second;
  goTo = first;
  form.requestSubmit();
}

function lift() {
  const svg = pressed.link.ownerSVGElement;
  pressed.ghost = pressed.link.cloneNode(true);
  pressed.ghost.removeAttribute("href");
  pressed.ghost.classList.add("lifted");
  svg.append(pressed.ghost);
  pressed.link.classList.add("from");
  svg.classList.add("in-hand");
  navigator.vibrate?.(12);
}

function carry(x, y) {
  const scale = pressed.link.ownerSVGElement.getScreenCTM().a || 1;
  const [right, down] = [(x - pressed.x) / scale, (y + scrollY - pressed.y) / scale];
  pressed.ghost.setAttribute("transform", `translate(${right} ${down})`);
  const over = linkAt(x, y);
  if (over !== pressed.over) {
    pressed.over?.classList.remove("onto");
    pressed.over = over && over !== pressed.link ? over : null;
    pressed.over?.classList.add("onto");
  }
  if (y < EDGE) scrollBy(0, -12);
  else if (y > innerHeight - EDGE) scrollBy(0, 12);
}

function letGo() {
  if (!pressed) return null;
  const { link, over, ghost, timer } = pressed;
  clearTimeout(timer);
  pressed = null;
  if (!ghost) return null;
  ghost.remove();
  link.classList.remove("from");
  over?.classList.remove("onto");
  link.ownerSVGElement?.classList.remove("in-hand");
  return over ? [link, over] : null;
}

document.addEventListener("pointerdown", (event) => {
  dragged = false;
  const link = event.target.closest?.(".big-quilt a");
  if (!link || !event.isPrimary || event.button || !document.getElementById("dropped")) return;
  if (wall().dataset.trading) return;
  pressed = { link, x: event.clientX, y: event.clientY + scrollY, id: event.pointerId, touch: event.pointerType !== "mouse" };
  if (pressed.touch) pressed.timer = setTimeout(() => { if (pressed) { dragged = true; lift(); } }, LONG_PRESS);
});
document.addEventListener("pointermove", (event) => {
  if (pressed?.id !== event.pointerId) return;
  const far = Math.hypot(event.clientX - pressed.x, event.clientY + scrollY - pressed.y) > SLACK;
  if (!pressed.ghost && far) {
    if (pressed.touch) return void letGo(); // it is the page that is being moved
    dragged = true;
    lift();
  }
  if (pressed?.ghost) carry(event.clientX, event.clientY);
});
document.addEventListener("pointerup", (event) => {
  if (pressed?.id !== event.pointerId) return;
  const pair = letGo();
  if (pair) trade(blockOf(pair[0]), blockOf(pair[1]));
});
document.addEventListener("pointercancel", letGo);
// While a block is in the hand, the page stays; a link is neither dragged as a link nor asked about.
document.addEventListener("touchmove", (event) => { if (pressed?.ghost) event.preventDefault(); }, { passive: false });
for (const kind of ["dragstart", "contextmenu"]) {
  document.addEventListener(kind, (event) => {
    if (event.target.closest?.(".big-quilt a") && (kind === "dragstart" || pressed?.touch || dragged)) event.preventDefault();
  });
}

/* a tap opens the label in place; with a trade begun, it is the other one of the two */
document.addEventListener("click", (event) => {
  const link = event.target.closest?.(".big-quilt a");
  if (!link || event.ctrlKey || event.metaKey || event.shiftKey) return;
  event.preventDefault();
  if (dragged) return void (dragged = false);
  const first = wall().dataset.trading;
  if (first) return trade(first, blockOf(link));
  goTo = "label";
  open(link.href.baseVal ?? link.href);
});

function open(address) {
  htmx.ajax("GET", address, { source: wall(), target: "#picture", select: "#picture", swap: "outerHTML show:none" });
}

/* by keyboard: arrows to the neighbors, Enter is the link itself, Escape closes the label */
const WAYS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

function neighbor(link, [right, down]) {
  const middle = (each) => {
    const box = each.querySelector(".ring").getBoundingClientRect();
    return [box.x + box.width / 2, box.y + box.height / 2];
  };
  const [x, y] = middle(link);
  const ahead = links().map((each) => {
    const [dx, dy] = [middle(each)[0] - x, middle(each)[1] - y];
    return { each, along: dx * right + dy * down, aside: Math.abs(dx * down) + Math.abs(dy * right) };
  }).filter(({ each, along }) => each !== link && along > 4);
  return ahead.sort((a, b) => a.along + 2 * a.aside - b.along - 2 * b.aside)[0]?.each;
}

document.addEventListener("keydown", (event) => {
  if (event.key === "Escape" && pressed?.ghost) return void letGo();
  if (!wall()?.contains(event.target)) return;
  const close = wall().querySelector(".clothlabel .close");
  if (event.key === "Escape" && close) {
    event.preventDefault();
    goTo = current();
    return open(close.href);
  }
  const link = event.target.closest(".big-quilt a");
  if (!link || !WAYS[event.key]) return;
  event.preventDefault();
  neighbor(link, WAYS[event.key])?.focus();
});

/* the links of the label lead to what it asks, or back to the block */
document.addEventListener("click", (event) => {
  const link = event.target.closest?.(".clothlabel a");
  if (!link || !wall()?.contains(link)) return;
  goTo = link.classList.contains("close") ? current() : "label";
}, true);

/* after a swap the keyboard goes on where it was: in the label that opened, or at the block that moved */
document.addEventListener("submit", (event) => {
  const block = event.target.elements?.block?.value;
  if (wall()?.contains(event.target) && block && event.target.id !== "dropped") goTo = block;
  if (wall()?.contains(event.target) && !block) goTo = event.submitter?.id;
}, true);
document.addEventListener("htmx:afterSettle", (event) => {
  // What follows by itself, elsewhere on the page, settles at any time and is not what the hand waits for.
  if (goTo === null || !wall() || event.detail.target?.id !== "picture") return;
  const label = document.getElementById("label");
  const place = label && goTo === "label" ? FIRST.map((each) => label.querySelector(each)).find(Boolean)
    : document.getElementById(goTo) ?? links().find((link) => blockOf(link) === goTo) ?? document.getElementById("undo") ?? links()[0];
  goTo = null;
  place?.focus({ preventScroll: true });
  (label ?? place)?.scrollIntoView({ block: "nearest" });
  requestAnimationFrame(() => requestAnimationFrame(keepInSight)); // once the wall has its new height
});
// On a phone the label lies over the foot of the wall; the block that it is about stays in sight above it.
function keepInSight() {
  const label = document.getElementById("label");
  const block = wall()?.querySelector(".big-quilt a[aria-current] .ring")?.getBoundingClientRect();
  if (!label || !block) return;
  const top = label.getBoundingClientRect().top;
  if (getComputedStyle(label).position === "sticky" && block.bottom > top) scrollBy(0, Math.min(block.bottom - top + 12, block.top));
}
// A form further down knows the move that stands now, too.
document.addEventListener("htmx:afterSwap", () => {
  const seen = wall()?.dataset.seen;
  if (seen) document.querySelectorAll('#main input[name="seen"]').forEach((field) => { field.value = seen; });
});
// What is unfolded and perhaps half filled in stays as it is; only the rest follows.
document.addEventListener("htmx:oobBeforeSwap", (event) => {
  if (event.detail.target.matches("details[open], :has(details[open])")) event.detail.shouldSwap = false;
  hangsAt = wall()?.getBoundingClientRect().top;
});
// The ways above may have become more or fewer; the picture stays where the eye is.
document.addEventListener("htmx:oobAfterSwap", () => {
  if (wall() && hangsAt !== undefined) scrollBy(0, wall().getBoundingClientRect().top - hangsAt);
});
// An answer that is a page of its own (somebody was here first, or signed out): ask for it as a page.
document.addEventListener("htmx:beforeSwap", (event) => {
  const { xhr, requestConfig, target } = event.detail;
  if (target?.id !== "picture" || xhr.responseText.includes('id="picture"')) return;
  event.detail.shouldSwap = false;
  const form = requestConfig.elt.closest("form");
  if (form) form.submit();
  else location.reload();
});
