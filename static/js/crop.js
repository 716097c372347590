// The block over the shirt: moved by its cross; the print's box set by two corners where it was not measured.
"use strict";

const numbers = document.getElementById("crop-numbers");
const pair = (name) => numbers.dataset[name].split(",").map(Number);
const MOVED = ["finished", "cut", "margin"];
const unit = numbers.dataset.unit;
const inch = unit === "in" ? 1 : 2.54; // of the shop's unit
const step = unit === "in" ? 1 / 8 : 0.2;
const shift = { x: document.getElementById("id_shift_x"), y: document.getElementById("id_shift_y") };
const lines = Object.fromEntries([...stage.querySelectorAll("[data-line]")].map((line) => [line.dataset.line, line]));
const points = (line) => line.getAttribute("points").split(" ").map((at) => at.split(",").map(Number));
const first = Object.fromEntries(Object.entries(lines).map(([name, line]) => [name, points(line)]));
const [right, below] = [pair("right"), pair("below")];
const home = pair("middle");
const begun = { x: typed(shift.x.value), y: typed(shift.y.value) };
let at = [...home];

// "1 1/2", "-1/8" or "0.25" as a number of the shop's unit; what cannot be read counts as none.
function typed(words) {
  const match = words.trim().replace("−", "-").match(/^(-?)\s*(?:(\d+)(?:\s+|$))?(?:(\d+)\/(\d+)|(\d*\.\d+|\d+))?/);
  if (!match) return 0;
  const [, minus, whole, over, under, decimal] = match;
  const size = Number(whole || 0) + (over ? Number(over) / Number(under) : Number(decimal || 0));
  return (minus ? -1 : 1) * size;
}

// How far a place lies from where the block began, in the shop's unit to the right and below.
function measured([x, y]) {
  const [dx, dy] = [x - home[0], y - home[1]];
  const area = right[0] * below[1] - right[1] * below[0];
  return [((dx * below[1] - dy * below[0]) / area) * inch, ((dy * right[0] - dx * right[1]) / area) * inch];
}

function move(x, y) {
  const [toRight, toBelow] = measured([x, y]);
  const across = Math.round((begun.x + toRight) / step) * step;
  const down = Math.round((begun.y + toBelow) / step) * step;
  shift.x.value = shortly(across);
  shift.y.value = shortly(down);
  follow();
}

// As it is read off a ruler: "1 1/4" in inches, decimals in centimeters.
function shortly(number) {
  if (unit !== "in") return String(Number(number.toFixed(3)));
  const eighths = Math.round(Math.abs(number) * 8);
  const [whole, over] = [Math.floor(eighths / 8), eighths % 8];
  const under = [8, 8, 4, 8, 2, 8, 4, 8][over];
  const words = [whole || (over ? "" : "0"), over ? `${(over * under) / 8}/${under}` : ""].filter(Boolean).join(" ");
  return number < 0 && eighths ? `-${words}` : words;
}

// Draw the block where the numbers say it is.
function follow() {
  const across = (typed(shift.x.value) - begun.x) / inch;
  const down = (typed(shift.y.value) - begun.y) / inch;
  const [dx, dy] = [across * right[0] + down * below[0], across * right[1] + down * below[1]];
  at = [home[0] + dx, home[1] + dy];
  for (const name of MOVED) {
    const moved = first[name]?.map(([x, y]) => `${(x + dx).toFixed(2)},${(y + dy).toFixed(2)}`);
    if (moved) lines[name].setAttribute("points", moved.join(" "));
  }
  document.dispatchEvent(new CustomEvent("handles:moved"));
}

function addBlockHandle() {
  const far = () => [Math.hypot(...right) * (step / inch), Math.hypot(...below) * (step / inch)];
  addHandle({ name: "The block", kind: "block", at: () => at, move, step: far });
  shift.x.addEventListener("input", follow);
  shift.y.addEventListener("input", follow);
}

// The print's box: two opposite corners. Its lines are drawn anew when it is kept.
function addPrintHandles() {
  const box = Object.fromEntries(["x", "y", "width", "height"].map((axis) => [axis, document.getElementById(`id_print_${axis}`)]));
  if (!box.x) return;
  const edge = (name) => Number(box[name].value);
  const write = (values) => Object.entries(values).forEach(([name, value]) => { box[name].value = value.toFixed(2); });
  addHandle({
    name: "Top left corner of what is on the photo",
    kind: "print",
    at: () => [edge("x"), edge("y")],
    move: (x, y) => {
      const [far, low] = [edge("x") + edge("width"), edge("y") + edge("height")];
      const [left, top] = [Math.min(x, far - 1), Math.min(y, low - 1)];
      write({ x: left, y: top, width: far - left, height: low - top });
      drawBox(edge);
    },
  });
  addHandle({
    name: "Bottom right corner of what is on the photo",
    kind: "print",
    at: () => [edge("x") + edge("width"), edge("y") + edge("height")],
    move: (x, y) => {
      write({ width: Math.max(1, x - edge("x")), height: Math.max(1, y - edge("y")) });
      drawBox(edge);
    },
  });
}

function drawBox(edge) {
  const line = lines.print ?? lines.cloth;
  const [left, top] = [edge("x"), edge("y")];
  const [far, low] = [left + edge("width"), top + edge("height")];
  line.setAttribute("points", `${left},${top} ${far},${top} ${far},${low} ${left},${low}`);
}

stage.classList.add("live");
document.querySelector("[data-drag-words]").hidden = false;
addBlockHandle();
addPrintHandles();
