(function () {
  "use strict";
  var seen = document.getElementById("seen");
  var at = {};
  var last = "";
  var open = {};
  function routes() { return Array.prototype.slice.call(seen.querySelectorAll("[data-route]")); }
  function show() {
    routes().forEach(function (route) {
      var stages = Array.prototype.slice.call(route.querySelectorAll(".stage"));
      var name = route.dataset.route;
      var found = stages.filter(function (s) { return s.dataset.stage === at[name]; })[0] || stages[0];
      if (!found) { return; }
      at[name] = found.dataset.stage;
      stages.forEach(function (s) { s.classList.toggle("now", s === found); });
    });
  }
  function nearest() {
    var best = null;
    routes().forEach(function (route) {
      var box = route.getBoundingClientRect();
      var off = Math.abs((box.top + box.bottom) / 2 - window.innerHeight / 2);
      if (!best || off < best.off) { best = { route: route, off: off }; }
    });
    return best && best.route;
  }
  function go(step) {
    var route = nearest();
    if (!route) { return; }
    var stages = Array.prototype.slice.call(route.querySelectorAll(".stage"));
    var k = stages.findIndex(function (s) { return s.dataset.stage === at[route.dataset.route]; });
    var next = stages[k + step];
    if (next) {
      var before = route.getBoundingClientRect().top;
      at[route.dataset.route] = next.dataset.stage;
      show();
      window.scrollBy(0, route.getBoundingClientRect().top - before);
    }
  }
  function renew() {
    fetch("seen").then(function (answer) { return answer.text(); }).then(function (html) {
      if (html === last) { return; }
      last = html;
      seen.querySelectorAll("details").forEach(function (d, k) { open[k] = d.open; });
      seen.innerHTML = html;
      seen.querySelectorAll("details").forEach(function (d, k) { d.open = !!open[k]; });
      var name = seen.querySelector("h1");
      if (name) { document.title = name.textContent; }
      show();
    });
  }
  document.querySelectorAll("[data-go]").forEach(function (button) {
    button.addEventListener("click", function () { go(Number(button.dataset.go)); });
  });
  document.addEventListener("keydown", function (ev) {
    if (ev.target.closest && ev.target.closest("summary,a")) { return; }
    if (ev.key === "ArrowRight") { go(1); }
    if (ev.key === "ArrowLeft") { go(-1); }
  });
  new EventSource("changes").onmessage = renew;
}());
