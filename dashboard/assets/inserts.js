/* The ledger of inserts: a serial is a link to its story; Enter on its cell follows it. */
(function () {
  "use strict";
  const drawn = (window.dashAgGridComponentFunctions = window.dashAgGridComponentFunctions || {});

  drawn.LedgerSerial = function (props) {
    return window.React.createElement(
      "a",
      { href: "/inserts/" + encodeURIComponent(props.value), tabIndex: -1, className: "serial-link" },
      props.value
    );
  };

  document.addEventListener("keydown", function (event) {
    if (event.key === "Enter" && event.target.classList.contains("ag-cell")) {
      const link = event.target.querySelector("a.serial-link");
      if (link) {
        link.click();
      }
    }
  });
})();
