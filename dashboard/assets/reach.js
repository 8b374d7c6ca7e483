/* The library's lists, mended for keyboard and screen reader: it puts the focus of a list that drops down on a hidden
   field, and calls a row of radio buttons a list box of options that hold controls. */
(function () {
  "use strict";

  function mend() {
    document.querySelectorAll(".dash-dropdown-focus-target[tabindex='0']").forEach(function (hidden) {
      const button = hidden.parentElement.querySelector("button.dash-dropdown");
      hidden.tabIndex = -1;
      if (button) {
        button.tabIndex = 0;
      }
    });
    document.querySelectorAll(".dash-radioitems, .dash-checklist").forEach(function (list) {
      if (list.getAttribute("role") === "listbox") {
        const around = list.closest("fieldset, .labelled") || list.parentElement;
        const name = around.querySelector("legend, :scope > span, h2, h3");
        list.setAttribute("role", list.classList.contains("dash-radioitems") ? "radiogroup" : "group");
        list.setAttribute("aria-label", name ? name.textContent : "Choose");
      }
      list.querySelectorAll("[role='option'], label[aria-selected]").forEach(function (label) {
        label.removeAttribute("role");
        label.removeAttribute("aria-selected");
      });
    });
  }

  new MutationObserver(mend).observe(document.documentElement, {
    subtree: true,
    childList: true,
    attributes: true,
    attributeFilter: ["aria-selected", "role"],
  });
})();
