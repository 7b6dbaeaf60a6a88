"use strict";
// Switching follows at once. Without this file every form still works by its button.
(function () {
  document.documentElement.classList.add("scripted");
  var token = document.querySelector('meta[name="ampsum-token"]').content;

  function say(message) {
    var line = document.getElementById("live-error");
    if (!line) {
      line = document.createElement("p");
      line.id = "live-error";
      line.setAttribute("role", "alert");
      document.getElementById("main").prepend(line);
    }
    line.textContent = message;
  }

  // What is on, as the command line would say it: kettle,lamp*2
  function chosen(form) {
    var on = [];
    form.querySelectorAll('input[name="on"]:checked').forEach(function (box) { on.push(box.value); });
    form.querySelectorAll('input[type="number"]').forEach(function (box) {
      var units = Math.floor(Number(box.value));
      if (units > 0) { on.push(box.name.slice(2) + "*" + units); }
    });
    return on.join(",");
  }

  function figure(value, decimals) {
    return value === null ? "-" : value.toFixed(decimals);
  }

  function put(row, name, value) {
    var place = row.querySelector('[data-figure="' + name + '"]');
    if (place && place.textContent !== value) { place.textContent = value; }
  }

  function show(answer) {
    answer.branches.forEach(function (branch) {
      var row = document.querySelector('[data-branch="' + branch.id + '"]');
      if (!row) { return; }
      put(row, "now", figure(branch.scene.current_a, 1));
      put(row, "now-word", branch.status === "over" ? "OVER" : "");
      put(row, "drop", figure(branch.drop_percent, 1));
    });
    document.getElementById("house").classList.toggle("switched", answer.now.power_w > 0);
    document.getElementById("now-power").textContent = figure(answer.now.power_w, 0);
    var cost = document.getElementById("now-cost");
    if (cost) { cost.textContent = answer.now.cost_hour; }
    document.documentElement.dataset.switched = String(Number(document.documentElement.dataset.switched || 0) + 1);
  }

  var asked = 0;
  var answered = {}; // by name of a control: its value when an answer was last shown

  // What the controls say now: what a switch goes back to where no answer comes.
  function keep(form) {
    Array.prototype.forEach.call(form.elements, function (one) {
      if (one.type === "checkbox") { answered[one.value] = one.checked; }
      if (one.type === "number") { answered[one.name] = one.value; }
    });
  }

  function putBack(form) {
    Array.prototype.forEach.call(form.elements, function (one) {
      if (one.type === "checkbox" && one.value in answered) { one.checked = answered[one.value]; }
      if (one.type === "number" && one.name in answered) { one.value = answered[one.name]; }
    });
  }

  var unanswered = document.getElementById("main").dataset.unanswered || "The program does not answer, so nothing was switched. Was it stopped? Start it again and open the address that it prints.";

  async function ask(form) {
    var mine = ++asked;
    try {
      var reply = await fetch("/api/check", {
        method: "POST",
        headers: { "Content-Type": "application/x-www-form-urlencoded", "X-Ampsum-Token": token },
        body: new URLSearchParams({ on: chosen(form), brief: "1" })
      });
      var answer = await reply.json();
      if (mine !== asked) { return; }
      if (answer.error) { say(answer.error); } else { show(answer); keep(form); }
    } catch (fault) {
      putBack(form);
      say(unanswered);
    }
  }

  // A view whose form says `swap`: the same page with other values, its content put in place of this one's.
  async function swap(form, button) {
    var fields = new URLSearchParams(new FormData(form));
    if (button && button.name) { fields.append(button.name, button.value); }
    var focus = document.activeElement ? document.activeElement.id : "";
    var mine = ++asked;
    var address = form.getAttribute("action") + "?" + fields;
    try {
      var reply = await fetch(address);
      var page = new DOMParser().parseFromString(await reply.text(), "text/html");
      if (mine !== asked) { return; }
      document.getElementById("main").replaceWith(page.getElementById("main"));
      history.replaceState(null, "", address);
      var again = focus && document.getElementById(focus);
      var steps = document.querySelectorAll(".class .steps li");
      if (steps.length) { steps[steps.length - 1].scrollIntoView({ block: "nearest" }); }
      if (again) { again.focus({ preventScroll: true }); } else if (focus) { var hide = document.getElementById("hide"); if (hide) { hide.focus(); } }
      document.documentElement.dataset.switched = String(Number(document.documentElement.dataset.switched || 0) + 1);
    } catch (fault) {
      form.reset();
      say(unanswered);
    }
  }

  // How many of a room's appliances are on in the scene that is put together.
  document.addEventListener("input", function (event) {
    var group = event.target.closest(".group");
    if (!group) { return; }
    var on = 0;
    group.querySelectorAll("input").forEach(function (one) { on += one.type === "checkbox" ? one.checked : Number(one.value) > 0; });
    group.querySelector("[data-on]").textContent = on;
  });

  // Rows whose branch or appliances are not called so are hidden.
  document.addEventListener("input", function (event) {
    if (event.target.id !== "find") { return; }
    var word = event.target.value.trim().toLowerCase();
    var shown = 0;
    if (rest && word !== "") { rest.open = true; }
    document.querySelectorAll("li.branch").forEach(function (row) {
      var names = row.querySelector("h3 a").textContent + " " + (row.querySelector(".switches") || row.querySelector("h3 a")).textContent;
      row.hidden = word !== "" && names.toLowerCase().indexOf(word) < 0;
      if (!row.hidden) { shown++; }
    });
    document.getElementById("none-found").textContent = shown === 0 ? "No branch and no appliance is called so." : "";
  });
  var house = document.getElementById("house");
  // Where a branch is one line, and on paper, all of them are open.
  var rest = document.querySelector("details.with-room");
  if (rest && matchMedia("(min-width: 60rem)").matches) { rest.open = true; }
  window.addEventListener("beforeprint", function () { if (rest) { rest.open = true; } });
  if (house) { keep(house); }
  document.addEventListener("change", function (event) {
    var form = event.target.form;
    if (form && form.id === "house") { ask(form); }
    if (form && form.classList.contains("swap")) { swap(form, null); }
  });
  // In the class view a press on a load's rung is a press on its switch.
  document.addEventListener("click", function (event) {
    var rung = event.target.closest(".class .circuit svg g g");
    var rungs = rung ? Array.prototype.slice.call(rung.closest(".circuit").querySelectorAll("svg g g")) : [];
    var box = rung && document.querySelectorAll(".class .switches input")[rungs.indexOf(rung)];
    if (!box) { return; }
    if (box.type === "checkbox") { box.click(); return; }
    box.value = box.value === "0" ? box.max : "0";
    box.dispatchEvent(new Event("change", { bubbles: true }));
  });
  document.addEventListener("submit", function (event) {
    var form = event.target;
    if (form.id === "house") { event.preventDefault(); ask(form); }
    if (form.classList.contains("swap")) { event.preventDefault(); swap(form, event.submitter); }
  });
})();
