// Small helps on top of forms and links that all work without any script.
"use strict";

const token = document.querySelector('meta[name="csrf-token"]');
const faces = new WeakMap();

// A sign-in on another page makes the token of this page stale: take the one that it would be drawn with now.
async function renewToken() {
  const answer = await fetch(location.href, { redirect: "manual" });
  if (!answer.ok) return;
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  const fresh = page.querySelector('meta[name="csrf-token"]');
  if (fresh) token.content = fresh.content;
}

function isSaving(form) {
  return faces.has(form);
}

function startSaving(form, button) {
  faces.set(form, { button, face: button ? [...button.childNodes] : [] });
  if (!button) return;
  button.setAttribute("aria-disabled", "true");
  button.replaceChildren(button.dataset.saving || "Saving…");
}

function stopSaving(form) {
  const { button, face } = faces.get(form) ?? {};
  faces.delete(form);
  if (!button) return;
  button.removeAttribute("aria-disabled");
  button.replaceChildren(...face);
}

function say(sentence) {
  const line = document.createElement("p");
  line.className = "said";
  line.textContent = sentence;
  document.getElementById("said")?.replaceChildren(line);
}

// A form is sent once, and says so at once. A file that comes back leaves the page as it is: data-file.
document.addEventListener("submit", (event) => {
  const form = event.target;
  if (form.method !== "post" || "file" in form.dataset) return;
  if (isSaving(form)) {
    event.preventDefault();
    event.stopImmediatePropagation();
    return;
  }
  // Only after this turn: a changed button would not send its own name and value.
  setTimeout(() => startSaving(form, event.submitter));
}, true);

// Back to a page that the browser kept: its forms can be sent again.
window.addEventListener("pageshow", (event) => {
  if (event.persisted) document.querySelectorAll("form").forEach(stopSaving);
});

document.addEventListener("htmx:configRequest", (event) => {
  event.detail.headers["X-CSRFToken"] = token?.content;
});
document.addEventListener("htmx:afterRequest", (event) => {
  const form = event.detail.elt.closest("form");
  if (form) setTimeout(() => stopSaving(form));
});
// What was swapped in is read out, and is where the keyboard goes on.
document.addEventListener("htmx:afterSwap", (event) => {
  showCopyButtons();
  if (event.detail.target.id === "main") document.getElementById("main").focus({ preventScroll: true });
});
document.addEventListener("htmx:afterSettle", showCopyButtons);
document.addEventListener("htmx:sendError", () => {
  say("The shop’s computer did not answer, so nothing was kept. Look at the network, then send it again.");
});
document.addEventListener("htmx:responseError", () => {
  say("Something went wrong here. Open the page again and look whether it was kept.");
});

// Copy the words of the element that data-copy names; the button shows itself only where it can work.
function showCopyButtons() {
  document.querySelectorAll("button[data-copy]").forEach((button) => { button.hidden = false; });
}
showCopyButtons();
document.addEventListener("click", async (event) => {
  const button = event.target.closest("button[data-copy]");
  if (!button) return;
  const source = document.querySelector(button.dataset.copy);
  await copy(source);
  say("The words are copied.");
});

async function copy(source) {
  const words = source.value ?? (source.innerText || source.textContent);
  if (navigator.clipboard) {
    await navigator.clipboard.writeText(words);
  } else {
    // Away from https there is no clipboard for scripts, but a selection can be copied.
    window.getSelection().selectAllChildren(source);
    if (source.select) source.select();
    document.execCommand("copy");
  }
}
