// What is wrong with the plan, told at the top of the sheet, where it stays in sight.
import { el } from "./elements.js";

// amiss makes the place. back is called to have the last good room again.
export function amiss({ back }) {
  const node = el("div", { class: "room-wrong", role: "alert" });
  let faults = [], refusal = "", last = "", why = "";

  function show() {
    const told = [...(refusal ? [refusal] : []), ...faults];
    const words = JSON.stringify([told, last]);
    if (node.dataset.told === words) return; // those who listen hear it once
    node.dataset.told = words;
    node.replaceChildren(...(told.length ? [el("div", { class: "error" }, told.map((f) => el("p", { text: f })),
      faults.length ? el("p", { class: "until" }, el("span", {}, `${why} The lap and the other sheets still use the last good room${last ? `, “${last}”,` : ""} until that is mended.`),
        el("button", { type: "button", id: "room-back", onclick: back }, "Back to the last good room")) : null)] : []));
  }

  return {
    node,
    // refuse tells why what was typed was not taken.
    refuse(words) { refusal = words; show(); },
    // heard forgets a refusal, since something else was done.
    heard() { refusal = ""; show(); },
    // broken tells why the plan is no room, or why it is not known to be one; good is the
    // room that is used instead.
    broken(words, known, good) { faults = words; why = known ? "The plan is not a room yet." : "The plan could not be looked at."; refusal = ""; last = good ? good.full_name : ""; show(); },
    // mended tells whether there was something to mend.
    mended() { const was = faults.length > 0; this.clear(); return was; },
    clear() { faults = []; refusal = ""; show(); },
  };
}
