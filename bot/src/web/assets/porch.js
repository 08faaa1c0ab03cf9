// The porch's page: it learns its texts and who is here, then listens.

import { byId, hasWords, setWords, tell, word } from "./porch-base.js";
import { wire } from "./porch-line.js";
import { merge, sawUpTo, seenUpTo, setZone } from "./porch-log.js";
import { hurry } from "./porch-send.js";

function listen(failures = 0) {
  const source = new EventSource("/events?after=" + seenUpTo());
  source.onopen = () => { failures = 0; tell(null); hurry(); };
  source.onmessage = (event) => merge([JSON.parse(event.data)], false);
  source.onerror = async () => {
    source.close();
    const who = await fetch("/me").catch(() => null);
    if (who?.status === 401) return tell(word("ended"));
    if (!who?.ok || failures > 0) tell(word("offline"));
    setTimeout(() => listen(failures + 1), Math.min(15000, 500 * 2 ** failures));
  };
}

async function get(url) {
  const response = await fetch(url);
  if (!response.ok) throw new Error(String(response.status));
  return response.json();
}

async function start() {
  const [words, me] = await Promise.all([get("/words"), get("/me")]);
  setWords(words);
  setZone(me.zone);
  byId("place").textContent = me.place;
  byId("me").textContent = me.name + ", " + me.role;
  const first = await get("/log?after=0");
  merge(first.lines, true);
  sawUpTo(first.revision);
  // Only what comes from now on is read out.
  byId("log").setAttribute("aria-live", "polite");
  tell(null);
  wire();
  listen();
}

function begin() {
  start().catch((error) => {
    // Signed out meanwhile: the front page says how to get in again.
    if (error.message === "401") return location.reload();
    if (hasWords()) tell(word("offline"));
    setTimeout(begin, 3000);
  });
}

begin();
