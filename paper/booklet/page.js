(function () {
  "use strict";
  // Which steps are done is kept on this tablet, where that is allowed.
  var key = "guide " + document.body.getAttribute("data-toy");
  var ticks = Array.prototype.slice.call(document.querySelectorAll("input[data-step]"));
  var bar = document.querySelector(".done");
  var done = {};
  try { done = JSON.parse(localStorage.getItem(key)) || {}; } catch (e) { done = {}; }
  function show() {
    var n = ticks.filter(function (t) { return t.checked; }).length;
    bar.hidden = n === 0;
    bar.textContent = bar.getAttribute("data-says").replace("{n}", n).replace("{all}", ticks.length);
  }
  ticks.forEach(function (t) {
    t.checked = done[t.getAttribute("data-step")] === true;
    t.addEventListener("change", function () {
      done[t.getAttribute("data-step")] = t.checked;
      try { localStorage.setItem(key, JSON.stringify(done)); } catch (e) { /* a tick for this visit only */ }
      show();
    });
  });
  show();
})();
