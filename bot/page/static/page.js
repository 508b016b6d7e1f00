// What the script adds; without it every page works all the same: a count of
// ticked steps, the print button, sending with the keyboard, no question sent twice.
"use strict";

// Steps: count the ticks. They live on this page only.
for (const steps of document.querySelectorAll("[data-steps]")) {
  const boxes = Array.from(steps.querySelectorAll("input[type=checkbox]"));
  const count = steps.querySelector("[data-count]");
  const show = () => {
    const done = boxes.filter((box) => box.checked).length;
    count.textContent = done + " of " + boxes.length + " done";
  };
  steps.addEventListener("change", show);
  steps.querySelector("[data-clear]").addEventListener("click", () => {
    for (const box of boxes) box.checked = false;
    show();
  });
  count.parentElement.hidden = false;
  show();
}

// The print button stands only where it can do something.
for (const button of document.querySelectorAll("[data-print]")) {
  button.hidden = false;
  button.addEventListener("click", () => window.print());
}

// Questions: send once, say that it is being worked on, and make ready again if
// the browser comes back to this page.
const forms = Array.from(document.querySelectorAll("form[data-ask]"));
for (const form of forms) {
  form.addEventListener("submit", (event) => {
    if (forms.some((other) => other.dataset.sent)) {
      event.preventDefault();
      return;
    }
    form.dataset.sent = "yes";
    const pressed = event.submitter || form.querySelector("button");
    pressed.dataset.words = pressed.textContent;
    pressed.textContent = "Working on it…";
  });
}
window.addEventListener("pageshow", () => {
  for (const form of forms) {
    delete form.dataset.sent;
    for (const button of form.querySelectorAll("button[data-words]")) {
      button.textContent = button.dataset.words;
      delete button.dataset.words;
    }
  }
});

// The question: Ctrl and Enter send it; what is left of its room is said near the end.
const question = document.getElementById("q");
if (question) {
  const left = document.querySelector("[data-left]");
  question.addEventListener("keydown", (event) => {
    if (event.key === "Enter" && (event.ctrlKey || event.metaKey)) question.form.requestSubmit();
  });
  question.addEventListener("input", () => {
    const room = question.maxLength - question.value.length;
    left.hidden = room > 200;
    left.textContent = room + " characters left.";
  });
}
