"use strict";
// Looks up what was worked out for each state of the switches. Nothing is computed here but how thick a wire is drawn.
(function () {
  var all = JSON.parse(document.getElementById("states").textContent);
  var words = JSON.parse(document.getElementById("sentences").textContent);
  var boxes = Array.prototype.slice.call(document.querySelectorAll("#switches input"));
  var said = document.getElementById("said");
  var button = document.getElementById("cover");
  var guess = document.getElementById("guess");
  var shown = false;

  function state() {
    return boxes.reduce(function (bits, box, i) { return box.checked ? bits | (1 << i) : bits; }, 0);
  }
  function ampere(hundredths) { return (hundredths / 100).toFixed(2).replace(".", words.decimal) + " A"; }
  function fill(sentence, values) { return sentence.replace(/\{([a-z]+)\}/g, function (all, name) { return values[name]; }); }
  function put(id, text) { document.getElementById(id).textContent = text; }

  // As thick as it carries, once the answers are shown; before, no wire tells.
  function thick(where, hundredths) {
    var width = shown && hundredths > 0 ? Math.min(Math.max(hundredths / 100 / all.breaker, 0.1), 1.5) * 6 : 1.6;
    Array.prototype.forEach.call(document.querySelectorAll(where + " path[fill=none]"), function (path) { path.style.strokeWidth = width; });
  }

  function row(i, now) {
    var on = (now >> i & 1) === 1;
    var counts = !all.counted || (all.counted[now] >> i & 1) === 1;
    document.getElementById("rung" + i).classList.toggle("off", !on || !counts);
    put("own" + i, !shown ? words.covered : !on ? ampere(0) : counts ? ampere(all.own[i]) : words["not-counted"]);
    put("line" + i, shown ? ampere(all.line[i][now]) : words.covered);
    put("drawn" + i, shown ? ampere(all.line[i][now]) : "? A");
    thick("#rail" + i, all.line[i][now]);
    thick("#rung" + i + " .wire", on && counts ? all.own[i] : 0);
  }

  function paint() {
    var now = state();
    boxes.forEach(function (box, i) { row(i, now); });
    button.textContent = shown ? words.cover : words.show;
    var total = boxes.length ? all.line[0][now] : 0;
    put("together", shown ? ampere(total) : words.covered);
    said.textContent = "";
    if (!shown) {
      said.textContent = words.first;
      return;
    }
    if (guess.value.trim() !== "") { said.append(fill(words.wrote, { guess: guess.value.trim() })); }
    said.append(fill(words.total, { total: ampere(total), planned: ampere(all.planned[now]), breaker: all.breaker.replace(".", words.decimal) }));
    var word = document.createElement("span");
    word.textContent = all.words[all.word[now]];
    if (all.word[now] === "4") { word.className = "over"; }
    said.append(word, ".");
  }

  function change() { shown = false; guess.value = ""; paint(); }

  boxes.forEach(function (box, i) {
    box.addEventListener("change", change);
    document.getElementById("rung" + i).addEventListener("click", function () { box.click(); });
  });
  button.addEventListener("click", function () { shown = !shown; paint(); });
  paint();
})();
