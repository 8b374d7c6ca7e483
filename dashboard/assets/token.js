/* Every request that writes says the token that the server left in a cookie (see dashboard/walls/tokens.py). A server that
   was started anew does not know it: it says so and leaves a new one, and the request is sent again with that, once. */
(function () {
  "use strict";
  const READS = ["GET", "HEAD", "OPTIONS"];
  const send = window.fetch;

  function token() {
    const name = document.documentElement.dataset.token + "=";
    const own = document.cookie.split("; ").find((one) => one.startsWith(name));
    return own ? own.slice(name.length) : "";
  }

  function sent(address, options) {
    const headers = new Headers(options.headers);
    headers.set("X-CSRFToken", token());
    return send.call(window, address, Object.assign({}, options, { headers: headers }));
  }

  window.fetch = async function (address, options) {
    const method = ((options && options.method) || "GET").toUpperCase();
    if (READS.includes(method) || new URL(address, location.href).origin !== location.origin) {
      return send.call(window, address, options);
    }
    const answer = await sent(address, options);
    return answer.headers.get("X-Token") === "new" ? sent(address, options) : answer;
  };
})();
