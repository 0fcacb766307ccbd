// Small conveniences; every page reads, prints and sends its forms without them.
"use strict";
(function () {
  var by = function (sel, from) { return (from || document).querySelector(sel); };
  var all = function (sel, from) { return Array.prototype.slice.call((from || document).querySelectorAll(sel)); };

  // Choosing a place lights its words on the page beside it.
  document.addEventListener("click", function (e) {
    var a = e.target.closest("a.where");
    if (!a || a.getAttribute("href").charAt(0) !== "#") return;
    var g = document.getElementById(a.getAttribute("href").slice(1));
    if (!g) return;
    e.preventDefault();
    all(".paperpage g.on").forEach(function (x) { x.classList.remove("on"); });
    all(".paperpage g[data-for]").forEach(function (x) {
      if (x.getAttribute("data-for") === g.getAttribute("data-for")) x.classList.add("on");
    });
    var papers = by(".papers");
    if (papers && getComputedStyle(papers).position === "sticky") {
      papers.scrollTop += g.getBoundingClientRect().top - papers.getBoundingClientRect().top - papers.clientHeight / 3;
    } else {
      g.closest(".paperpage").scrollIntoView({ block: "start" });
    }
    var said = by("#place-said");
    if (said) said.textContent = "Shown on " + a.textContent + " of the sheet.";
  });

  // Printing.
  all("[data-print]").forEach(function (b) { b.hidden = false; b.addEventListener("click", function () { window.print(); }); });

  // A form that answers while it is filled in: it is sent when something changes, and the answer takes the place of the
  // old one. Its button works as well.
  all("form[data-live]").forEach(function (form) {
    var target = document.getElementById(form.getAttribute("data-live"));
    var wait = null, running = null;
    function send() {
      if (running) running.abort();
      running = new AbortController();
      target.classList.add("working");
      fetch(form.action, { method: "POST", body: new URLSearchParams(new FormData(form)), headers: { "X-Part": "1" }, signal: running.signal })
        .then(function (res) { return res.text(); })
        .then(function (text) { target.innerHTML = text; target.classList.remove("working"); running = null; })
        .catch(function (err) {
          if (err.name === "AbortError") return;
          target.classList.remove("working");
          target.textContent = "The answer did not come. Send the form with its button.";
        });
    }
    form.addEventListener("input", function (e) {
      if (e.target.hasAttribute("data-quiet")) return;
      clearTimeout(wait); wait = setTimeout(send, 450); });
  });

  // What is being read in the background, told again every second until it is done.
  var bar = by("#reading");
  function look() {
    fetch("/reading", { headers: { "X-Part": "1" } }).then(function (res) {
      if (!res.ok) throw new Error(String(res.status));
      return res.text().then(function (text) {
        var was = bar.getAttribute("data-open"), now = res.headers.get("X-Open") || "0";
        bar.innerHTML = text;
        bar.setAttribute("data-open", now);
        if (now !== "0") setTimeout(look, 1000);
        else if (was !== "0") location.reload();
      });
    }).catch(function () { setTimeout(look, 5000); });
  }
  if (bar && bar.getAttribute("data-open") !== "0") setTimeout(look, 800);

  // Documents can be dropped on the field; the upload shows how far it is and can be stopped.
  var drop = by(".drop");
  if (drop && drop.closest("form").hasAttribute("data-upload")) {
    var form = drop.closest("form"), input = by("input[type=file]", drop), state = by("#upload-state");
    var send = function () {
      if (!input.files.length) return;
      var n = input.files.length, xhr = new XMLHttpRequest(), progress = document.createElement("progress"), text = document.createElement("p"), stop = document.createElement("button");
      progress.max = 1; progress.value = 0; progress.setAttribute("aria-label", "Upload");
      text.textContent = "Sending " + n + (n === 1 ? " document" : " documents");
      stop.type = "button"; stop.className = "second"; stop.textContent = "Stop the upload";
      state.replaceChildren(text, progress, stop);
      stop.addEventListener("click", function () { xhr.abort(); state.textContent = "Stopped. Documents that had arrived completely are kept."; });
      xhr.upload.addEventListener("progress", function (e) { if (e.lengthComputable) progress.value = e.loaded / e.total; });
      xhr.addEventListener("load", function () {
        if (xhr.status >= 400) { document.open(); document.write(xhr.responseText); document.close(); return; }
        location.assign(xhr.responseURL || "/");
      });
      xhr.addEventListener("error", function () { state.textContent = "The upload broke off. Send the documents again; those that had arrived are kept once."; });
      xhr.open("POST", form.action);
      xhr.setRequestHeader("X-Unseen", "1");
      xhr.send(new FormData(form));
    };
    ["dragenter", "dragover"].forEach(function (n) { drop.addEventListener(n, function (e) { e.preventDefault(); drop.classList.add("over"); }); });
    drop.addEventListener("dragleave", function () { drop.classList.remove("over"); });
    drop.addEventListener("drop", function (e) {
      e.preventDefault(); drop.classList.remove("over");
      if (e.dataTransfer.files.length) { input.files = e.dataTransfer.files; send(); }
    });
    form.addEventListener("submit", function (e) { e.preventDefault(); send(); });
  }
})();
