// Small conveniences; every page reads and prints without them.
"use strict";
(function () {
  // Choosing a finding or a fact lights its words on the page beside it.
  function light(key) {
    var first = null;
    document.querySelectorAll(".paperpage g.on").forEach(function (g) { g.classList.remove("on"); });
    document.querySelectorAll(".paperpage g[data-for]").forEach(function (g) {
      if (g.getAttribute("data-for") === key) { g.classList.add("on"); first = first || g; }
    });
    return first;
  }
  document.addEventListener("click", function (e) {
    var a = e.target.closest("a.where");
    if (!a) return;
    var g = document.getElementById(a.getAttribute("href").slice(1));
    if (!g) return;
    e.preventDefault();
    light(g.getAttribute("data-for"));
    var papers = document.querySelector(".papers");
    var page = g.closest(".paperpage");
    if (papers && papers.scrollHeight > papers.clientHeight) {
      var box = g.getBoundingClientRect(), hold = papers.getBoundingClientRect();
      papers.scrollTop += box.top - hold.top - papers.clientHeight / 3;
    } else {
      page.scrollIntoView({ block: "start" });
    }
  });
  // While documents are being read the list looks again by itself.
  if (document.getElementById("still-reading")) setTimeout(function () { location.replace("/"); }, 2500);
  // A document can be dropped anywhere on the drop field.
  var drop = document.querySelector(".drop");
  if (drop) {
    var input = drop.querySelector("input[type=file]");
    var state = document.querySelector("#upload-state");
    var send = function () {
      if (!input.files.length) return;
      state.textContent = "Reading " + input.files.length + (input.files.length === 1 ? " document …" : " documents …");
      drop.closest("form").submit();
    };
    ["dragenter", "dragover"].forEach(function (n) {
      drop.addEventListener(n, function (e) { e.preventDefault(); drop.classList.add("over"); });
    });
    drop.addEventListener("dragleave", function () { drop.classList.remove("over"); });
    drop.addEventListener("drop", function (e) {
      e.preventDefault(); drop.classList.remove("over");
      if (e.dataTransfer.files.length) { input.files = e.dataTransfer.files; send(); }
    });
    input.addEventListener("change", send);
  }
})();
