"use strict";
// Gives what was typed as a CSV file that `lugwright readings` reads.
(function () {
  const button = document.getElementById("save");
  if (!button || !window.Blob || !window.URL) return;
  const quoted = (text) => '"' + String(text).replace(/"/g, '""') + '"';

  button.hidden = false;
  button.addEventListener("click", function () {
    const rows = [["line", "band", "reading"], ["plan", button.dataset.mark, ""]];
    for (const field of document.querySelectorAll("input.reading")) {
      rows.push([field.dataset.keep, "", field.value.trim()]);
    }
    const text = rows.map((row) => row.map(quoted).join(",") + "\n").join("");
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([text], { type: "text/csv" }));
    link.download = button.dataset.form;
    link.click();
    URL.revokeObjectURL(link.href);
  });
})();
