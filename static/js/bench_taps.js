// Taps of the bench wait on this tablet until the shop’s computer has them; they survive a reload. A tap: id, at
// (where it is sent), fields, words, kept (when), fault. Each has a random id, so that it is applied once.
"use strict";

const benchTaps = (() => {
  const LONGEST_WAIT = 30_000;
  const answers = new Map();
  let opened, timer, wait = 1000, running = null;

  function open() {
    opened ??= new Promise((done, fail) => {
      const asked = indexedDB.open("bench", 1);
      asked.onupgradeneeded = () => { asked.result.createObjectStore("taps", { keyPath: "id" }); };
      asked.onsuccess = () => done(asked.result);
      asked.onerror = () => fail(asked.error);
    });
    return opened;
  }

  async function act(mode, what) {
    const store = (await open()).transaction("taps", mode);
    const asked = what(store.objectStore("taps"));
    return new Promise((done, fail) => {
      store.oncomplete = () => done(asked.result);
      store.onabort = store.onerror = () => fail(store.error);
    });
  }

  const keep = (tap) => act("readwrite", (taps) => taps.put(tap));
  const drop = (id) => act("readwrite", (taps) => taps.delete(id));

  async function all() {
    const found = await act("readonly", (taps) => taps.getAll());
    return found.sort((one, other) => one.kept - other.kept);
  }

  // Random enough for one shop, and there without https too.
  function randomId() {
    const parts = crypto.getRandomValues(new Uint32Array(4));
    return [...parts].map((part) => part.toString(16).padStart(8, "0")).join("-");
  }

  async function post(tap) {
    const stop = new AbortController();
    const late = setTimeout(() => stop.abort(), 15_000);
    const body = new FormData();
    tap.fields.forEach(([name, value]) => body.append(name, value));
    body.append("client_id", tap.id);
    try {
      const answer = await fetch(tap.at, {
        method: "POST", body, headers: { "X-CSRFToken": token.content }, redirect: "manual", signal: stop.signal,
      });
      const isOurs = (answer.headers.get("content-type") ?? "").startsWith("application/json");
      if (!isOurs && (answer.type === "opaqueredirect" || answer.status === 403)) {
        await renewToken();
        throw new Error("Sign in again on another page, then come back: what waits here is sent.");
      }
      if (!isOurs) throw new Error("");
      return { status: answer.status, said: await answer.json() };
    } finally {
      clearTimeout(late);
    }
  }

  // Send what waits, the oldest first. A tap that is refused stays here with the sentence until it is let go.
  async function send() {
    let done = 0;
    for (const tap of (await all()).filter((each) => !each.fault)) {
      const { status, said } = await post(tap);
      if (status === 422) await keep({ ...tap, fault: said.fault });
      else { await drop(tap.id); answers.set(tap.id, said); done += 1; }
    }
    return done;
  }

  function run() {
    running ??= go().finally(() => { running = null; });
    return running;
  }

  async function go() {
    clearTimeout(timer);
    let fault = "", done = 0, isAway = false;
    try {
      done = await send();
      wait = 1000;
    } catch (problem) {
      isAway = true;
      fault = problem.name === "Error" ? problem.message : "";
      timer = setTimeout(run, wait);
      wait = Math.min(LONGEST_WAIT, wait * 2);
    }
    document.dispatchEvent(new CustomEvent("bench-taps", { detail: { fault, done, isAway } }));
    return { done, isAway };
  }

  function soon() {
    wait = 1000;
    return run();
  }

  window.addEventListener("online", soon);
  document.addEventListener("visibilitychange", () => { if (!document.hidden) soon(); });
  return { open, keep, drop, all, answers, run: soon, randomId };
})();
