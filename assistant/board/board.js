// Shows each update as it comes, and says so when none can come, or when a press did not count.
"use strict";

const board = document.getElementById("board");
const announcement = document.getElementById("announcement");
const link = document.getElementById("link");
const uncounted = document.getElementById("uncounted");

const LOST_AFTER = 5000; // ms without a sign of life; the program gives one every 2 s
const AGAIN_AFTER = 500; // ms until the next try to connect
const ANSWERED_WITHIN = 5000; // ms until a press counts as not answered
const TOLD_FOR = 6000; // ms that it is told that a press did not count

let newest = Number(board.firstElementChild.dataset.number);
let source = null;
let alive = Date.now();
let over = false;
let hiding = 0;

function tell(text) {
  link.hidden = text === "";
  if (link.textContent !== text) link.textContent = text;
  const isDone = board.firstElementChild.dataset.situation === "done"; // and so never gets old
  document.body.classList.toggle("lost", text !== "" && !isDone);
}

function isAlive() {
  alive = Date.now();
  tell("");
}

function show(event) {
  isAlive();
  const pressed = document.activeElement?.dataset?.press;
  board.innerHTML = event.data;
  const sheet = board.firstElementChild;
  sheet.classList.add("fresh");
  newest = Number(event.lastEventId);
  if (announcement.textContent !== sheet.dataset.announcement) {
    announcement.textContent = sheet.dataset.announcement;
  }
  if (pressed) board.querySelector(`[data-press="${pressed}"]`)?.focus();
}

function connect() {
  if (source) source.close();
  source = new EventSource(`updates?after=${newest}`);
  source.addEventListener("view", show);
  source.addEventListener("alive", isAlive);
  source.addEventListener("over", () => {
    over = true;
    source.close();
    tell("The program has ended.");
  });
  source.onerror = () => {
    if (over) return;
    tell("No connection. What stands here may be old: listen to the voice.");
    source.close();
    setTimeout(connect, AGAIN_AFTER);
  };
}

setInterval(() => {
  if (over || Date.now() - alive < LOST_AFTER) return;
  tell("No connection. What stands here may be old: listen to the voice.");
  alive = Date.now();
  connect();
}, 1000);

function tellUncounted(text) {
  clearTimeout(hiding);
  uncounted.hidden = text === "";
  uncounted.textContent = text;
  if (text !== "") hiding = setTimeout(tellUncounted, TOLD_FOR, "");
}

// What is wrong with a press, in words; nothing where it counts.
async function press(word) {
  try {
    const answer = await fetch("press", {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body: JSON.stringify({ word, number: newest }),
      signal: AbortSignal.timeout?.(ANSWERED_WITHIN), // not in older browsers,
    });
    return answer.ok ? "" : `“${word}” did not count. Look before you press again.`;
  } catch {
    return `“${word}” may be lost. Say it, unless the voice took it.`;
  }
}

board.addEventListener("click", async (event) => {
  const key = event.target.closest("[data-press]");
  if (!key) return;
  tellUncounted("");
  // Hold can be pressed at any time, also while another press is on its way.
  const others = () => board.querySelectorAll('[data-press]:not([data-press="hold"])');
  for (const other of others()) other.disabled = true;
  const wrong = await press(key.dataset.press);
  for (const other of others()) other.disabled = false;
  if (wrong) tellUncounted(wrong);
});

// A phone that dims its screen shows nothing; where the browser allows it, it stays lit.
async function stayLit() {
  try {
    await navigator.wakeLock?.request("screen");
  } catch {
    // the browser does not allow it: the phone's own setting decides
  }
}
document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && stayLit());

stayLit();
connect();
