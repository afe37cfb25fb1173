(function () {
  "use strict";
  var key = "handwheel " + document.title;
  var kept = {};
  try { kept = JSON.parse(localStorage.getItem(key) || "{}"); } catch (e) { kept = {}; }
  var all = document.querySelectorAll("[data-tick]");
  function show(el) {
    var on = !!kept[el.dataset.tick];
    if (el.tagName === "INPUT") { el.checked = on; return; }
    el.classList.toggle("on", on);
    el.setAttribute("aria-checked", on ? "true" : "false");
  }
  function turn(name) {
    kept[name] = !kept[name];
    try { localStorage.setItem(key, JSON.stringify(kept)); } catch (e) { /* kept for this visit only */ }
    all.forEach(function (el) { if (el.dataset.tick === name) { show(el); } });
    tally();
  }
  all.forEach(function (el) {
    if (el.tagName === "INPUT") {
      el.addEventListener("change", function () { turn(el.dataset.tick); });
    } else {
      el.setAttribute("role", "checkbox");
      el.setAttribute("tabindex", "0");
      el.setAttribute("aria-label", el.dataset.tick);
      el.addEventListener("click", function () { turn(el.dataset.tick); });
      el.addEventListener("keydown", function (ev) {
        if (ev.key === " " || ev.key === "Enter") { ev.preventDefault(); turn(el.dataset.tick); }
      });
    }
    show(el);
  });
  var count = document.querySelector("[data-count]");
  function tally() {
    var boxes = document.querySelectorAll("#done [data-tick]");
    var done = Array.prototype.filter.call(boxes, function (el) { return kept[el.dataset.tick]; }).length;
    if (count) { count.textContent = done + " of " + boxes.length; }
  }
  tally();
  var swap = document.querySelector("[data-swap]");
  function label() {
    var big = document.getElementById("acts").offsetParent !== null;
    swap.textContent = big ? "sheets" : "readings in big type";
  }
  swap.addEventListener("click", function () { document.body.classList.toggle("swap"); label(); window.scrollTo(0, 0); });
  window.addEventListener("resize", label);
  label();
  document.querySelectorAll("[data-step]").forEach(function (button) {
    button.addEventListener("click", function () {
      var shown = Array.prototype.filter.call(document.querySelectorAll(".page,.acts"), function (s) { return s.offsetParent !== null; });
      var step = Number(button.dataset.step);
      var at = 0;
      shown.forEach(function (s, k) { if (s.getBoundingClientRect().top <= 12) { at = k; } });
      var next = shown[Math.min(shown.length - 1, Math.max(0, at + step))];
      if (next) { next.scrollIntoView(); }
    });
  });
}());
