// Places on a photo to take hold of: by finger, mouse or arrow keys. A magnifying glass shows what is under them.
"use strict";

const stage = document.querySelector("[data-stage]");
const glass = stage?.querySelector("[data-glass]");
const STEP = 0.05; // per cent of the picture that an arrow key moves a handle; with Shift ten times as far
const NEAR = 3; // how much larger the glass shows it

let whole = null; // the whole picture, fetched when the first corner is held

// Else the browser would carry the photo itself away.
stage?.addEventListener("dragstart", (event) => event.preventDefault());

function wholePicture() {
  if (!whole) {
    whole = new Image();
    whole.src = stage.dataset.whole;
  }
  return whole;
}

function clamped(number) {
  return Math.min(100, Math.max(0, number));
}

// Put a handle on the stage. at() says where it is in per cent, move(x, y) takes it there.
function addHandle({ name, kind, at, move, step = () => [STEP, STEP] }) {
  const handle = document.createElement("button");
  handle.type = "button";
  handle.className = `handle ${kind}`;
  handle.setAttribute("aria-label", name);
  handle.setAttribute("aria-describedby", "handle-words");
  const show = () => {
    const [x, y] = at();
    handle.style.left = `${x}%`;
    handle.style.top = `${y}%`;
  };
  const go = (x, y) => {
    move(x, y);
    show();
    document.dispatchEvent(new CustomEvent("handles:moved"));
  };
  drag(handle, at, go);
  byKeys(handle, at, go, step);
  document.addEventListener("handles:moved", show);
  stage.append(handle);
  show();
  return handle;
}

function drag(handle, at, go) {
  let from = null;
  handle.addEventListener("pointerdown", (event) => {
    const box = stage.getBoundingClientRect();
    from = { box, start: at(), x: event.clientX, y: event.clientY };
    handle.setPointerCapture(event.pointerId);
    handle.classList.add("held");
    look(at());
  });
  handle.addEventListener("pointermove", (event) => {
    if (!from) return;
    const across = ((event.clientX - from.x) / from.box.width) * 100;
    const down = ((event.clientY - from.y) / from.box.height) * 100;
    go(clamped(from.start[0] + across), clamped(from.start[1] + down));
    look(at());
  });
  const end = () => {
    from = null;
    handle.classList.remove("held");
    if (glass) glass.hidden = true;
  };
  handle.addEventListener("pointerup", end);
  handle.addEventListener("pointercancel", end);
}

function byKeys(handle, at, go, step) {
  const ways = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
  handle.addEventListener("keydown", (event) => {
    const way = ways[event.key];
    if (!way) return;
    event.preventDefault();
    const far = event.shiftKey ? 10 : 1;
    const [wide, high] = step();
    const [x, y] = at();
    go(clamped(x + way[0] * wide * far), clamped(y + way[1] * high * far));
    look(at());
  });
  handle.addEventListener("blur", () => { if (glass) glass.hidden = true; });
}

// Hold the glass over the corner, on whichever side the finger is not.
function look([x, y]) {
  const shown = stage.querySelector("img");
  if (!glass || !shown) return;
  const picture = wholePicture().naturalWidth ? wholePicture() : shown;
  const box = stage.getBoundingClientRect();
  const pen = glass.getContext("2d");
  const wide = (glass.clientWidth || 132) / NEAR;
  const scale = picture.naturalWidth / box.width;
  glass.hidden = false;
  pen.fillRect(0, 0, glass.width, glass.height);
  const left = (x / 100) * picture.naturalWidth - (wide * scale) / 2;
  const top = (y / 100) * picture.naturalHeight - (wide * scale) / 2;
  pen.drawImage(picture, left, top, wide * scale, wide * scale, 0, 0, glass.width, glass.height);
  crosshair(pen);
  const px = (x / 100) * box.width;
  const py = (y / 100) * box.height;
  glass.style.left = `${px < box.width / 2 ? box.width - 140 : 8}px`;
  glass.style.top = `${py < 160 ? Math.min(py + 48, box.height - 140) : Math.max(8, py - 170)}px`;
}

function crosshair(pen) {
  const middle = glass.width / 2;
  for (const [color, width] of [["black", 5], ["white", 2]]) {
    pen.strokeStyle = color;
    pen.lineWidth = width;
    pen.beginPath();
    pen.moveTo(middle - 40, middle);
    pen.lineTo(middle + 40, middle);
    pen.moveTo(middle, middle - 40);
    pen.lineTo(middle, middle + 40);
    pen.stroke();
  }
}
