// What waits on this phone is sent one by one, the oldest first: all taps, then the photos. Each has its
// random id, so that a line or a photo whose answer was lost on the way is not doubled when it is sent again.
"use strict";

const sender = (() => {
  const LONGEST_WAIT = 30_000;
  let wait = 1000;
  let running = false;
  let timer;

  async function post(address, body, patience) {
    const stop = new AbortController();
    const late = setTimeout(() => stop.abort(), patience);
    try {
      const answer = await fetch(address, {
        method: "POST", body, headers: { "X-CSRFToken": token.content }, redirect: "manual", signal: stop.signal,
      });
      const isOurs = (answer.headers.get("content-type") ?? "").startsWith("application/json");
      if (isOurs) return { status: answer.status, said: await answer.json() };
      return { status: answer.type === "opaqueredirect" ? 403 : answer.status, said: {} };
    } finally {
      clearTimeout(late);
    }
  }

  function sendTaps(line) {
    const body = new FormData();
    line.fields.forEach(([name, value]) => body.append(name, value));
    return post(line.at, body, 20_000);
  }

  function sendPhoto(line) {
    const body = new FormData();
    body.append("client_id", line.photoId);
    body.append("photo", new Blob([line.photo], { type: line.type }), "shirt.jpg");
    return post(`${line.at}${line.id}/photo/`, body, 120_000);
  }

  // What a line has to wait for, in words; it stays on the phone until then.
  async function wayOn(status, said) {
    if (status !== 403) return said.fault ?? "";
    await renewToken();
    return "Sign in again on another page, then come back: what waits here is sent.";
  }

  // Send what is next of a line; false where the rest has to wait.
  async function step(line) {
    const { status, said } = await (line.state === "waiting" ? sendTaps(line) : sendPhoto(line));
    if (status === 200 && line.state === "waiting") {
      Object.assign(line, { number: said.number, address: said.address, said: said.said });
      document.dispatchEvent(new CustomEvent("phone-next", { detail: said.next }));
      line.state = line.photo ? "photo" : "done";
    } else if (status === 200) {
      line.state = "done";
    } else if (status === 422 || status === 404) {
      Object.assign(line, { refused: line.state, state: "refused", fault: said.fault ?? "It is not here any more." });
    } else {
      throw new Error(await wayOn(status, said));
    }
    if (line.state === "done" && line.said) line.state = "told";
    await (line.state === "done" ? phone.drop(line.id) : phone.keep(line));
  }

  // All taps go before any photo: the count is right soon, however long the photos take.
  async function next() {
    const lines = await phone.lines();
    return lines.find((line) => line.state === "waiting") ?? lines.find((line) => line.state === "photo");
  }

  async function run() {
    if (running) return;
    running = true;
    clearTimeout(timer);
    try {
      for (let line = await next(); line; line = await next()) {
        await step(line);
        wait = 1000;
        show("");
      }
    } catch (fault) {
      show(fault.name === "Error" ? fault.message : "");
      timer = setTimeout(run, wait);
      wait = Math.min(LONGEST_WAIT, wait * 2);
    } finally {
      running = false;
    }
    show();
  }

  function show(fault) {
    document.dispatchEvent(new CustomEvent("phone-queue", { detail: { fault } }));
  }

  function soon() {
    wait = 1000;
    run();
  }

  window.addEventListener("online", soon);
  document.addEventListener("visibilitychange", () => { if (!document.hidden) soon(); });
  return { run: soon, post };
})();
