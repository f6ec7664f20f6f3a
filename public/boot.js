// Starts the app and its service worker, and says so plainly when it cannot.
// Invariant: the page is never left blank. This file has no rule of its own; the
// build's names stand in the page's own preload links.

const say = (text, button) => {
  let box = document.getElementById("boot");
  if (!box) {
    box = document.createElement("div");
    box.id = "boot";
    document.body.prepend(box);
  }
  box.setAttribute("role", "alert");
  box.textContent = "";
  const title = document.createElement("h1");
  title.textContent = "Hearthjar";
  const line = document.createElement("p");
  line.textContent = text;
  const reload = document.createElement("button");
  reload.className = "main";
  reload.textContent = button;
  reload.addEventListener("click", () => location.reload());
  box.append(title, line, reload);
};

// A panic in the app ends its script; the record is safe on disk, so say that.
addEventListener("error", (event) => {
  if (event.error instanceof WebAssembly.RuntimeError) {
    say("Hearthjar stopped with a fault. Everything you tapped is kept, and the clock goes on from it.", "Open again");
  }
});
addEventListener("unhandledrejection", (event) => {
  if (event.reason instanceof WebAssembly.RuntimeError) {
    say("Hearthjar stopped with a fault. Everything you tapped is kept, and the clock goes on from it.", "Open again");
  }
});

try {
  const script = document.querySelector('link[rel="modulepreload"]').href;
  const wasm = document.querySelector('link[rel="preload"][as="fetch"]').href;
  const app = await import(script);
  await app.default({ module_or_path: wasm });
} catch (error) {
  console.error(error);
  if (!document.documentElement.hasAttribute("data-ready")) {
    say("Hearthjar could not open. It needs a browser of the last three years. Reload with a connection to fetch it again.", "Reload");
  }
}

if ("serviceWorker" in navigator && isSecureContext) {
  navigator.serviceWorker.register("sw.js").catch((error) => console.warn(error));
}
