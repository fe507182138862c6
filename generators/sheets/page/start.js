// Puts the view in the place of the still pictures, where the browser can.
{
  const root = document.documentElement, find = selector => document.querySelector(selector);
  const rows = [...document.querySelectorAll("table.marks tr[data-id]")];

  // Scrolls the table, not the page.
  const showRow = row => {
    const box = row.closest(".scroll"), from = box.getBoundingClientRect(), at = row.getBoundingClientRect();
    const head = box.querySelector("thead").offsetHeight;
    if (at.top < from.top + head) box.scrollTop -= from.top + head - at.top;
    else if (at.bottom > from.bottom) box.scrollTop += at.bottom - from.bottom;
  };

  // A row in one line: "gearbox-3: X -38.41 (-1.5122), .."
  const rowWords = row => {
    const names = [...row.closest("table").querySelectorAll("thead th")].map(cell => cell.textContent);
    return [...row.cells].slice(1).map((cell, i) => {
      const below = cell.querySelector("small"), first = cell.firstChild ? cell.firstChild.textContent : "";
      if (!first) return "";
      return `${cell.className === "words" ? "" : names[i + 1] + " "}${first}${below ? ` (${below.textContent})` : ""}`;
    }).filter(Boolean).join(", ");
  };

  const say = mark => {
    const line = find("#picked");
    line.textContent = "";
    if (!mark) return;
    const name = document.createElement("strong");
    name.textContent = mark.label;
    line.append(name, ": " + rowWords(mark.row));
  };

  const idOfPage = () => {
    const [, id] = /^#hole=(.+)$/.exec(location.hash) || [];
    try { return id && decodeURIComponent(id); } catch (error) { return id; }
  };

  const remember = mark => {
    try { history.replaceState(null, "", mark ? "#hole=" + encodeURIComponent(mark.id) : location.pathname); }
    catch (error) { /* some browsers keep a file's address as it is */ }
  };

  const sideButtons = view => {
    const buttons = [...document.querySelectorAll("#turn button[data-side]")];
    const show = (pressed, words) => {
      for (const one of buttons) one.setAttribute("aria-pressed", String(one === pressed));
      find("#look").textContent = words;
    };
    const press = name => {
      const button = buttons.find(one => one.dataset.side === name);
      show(button, button.dataset.words);
      view.goTo(fitup.sides[name]);
    };
    view.onTurn = () => show(undefined, "Turned by hand.");
    for (const button of buttons) button.addEventListener("click", () => press(button.dataset.side));
    return press;
  };

  const start = () => {
    find("#turn").hidden = false;
    const mesh = fitup.readMesh(find("#mesh"));
    const marks = fitup.readMarks(rows);
    const view = new fitup.View(find("#turn .stage"), mesh, marks, find("#turn").dataset.metal);
    const labels = new fitup.Labels(view, marks), press = sideButtons(view);
    const picking = new fitup.Picking(view, marks, say, press);
    view.afterwards = style => {
      labels.draw(style, picking.lit, picking.hovered);
      root.dataset.view = "drawn";
    };
    new fitup.Pointers(view, picking, mark => {
      picking.light(mark);
      remember(mark);
      if (mark) showRow(mark.row);
    });
    view.overlay.addEventListener("keydown", fitup.keysOf(view, picking, press));
    find("#numbers").addEventListener("change", event => { labels.shown = event.target.checked; view.redraw(); });
    find("#whole").addEventListener("click", () => view.goTo(view.turn.clone()));
    for (const mark of marks) {
      mark.row.addEventListener("click", event => {
        if (event.target.closest("a")) return;
        picking.lightAndShow(mark);
        remember(mark);
      });
      mark.row.addEventListener("mouseenter", () => picking.hover(mark));
      mark.row.addEventListener("mouseleave", () => picking.hover(undefined));
    }
    const fromAddress = () => { const mark = picking.byId(idOfPage()); if (mark) picking.lightAndShow(mark); };
    window.addEventListener("hashchange", fromAddress);
    window.matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => view.redraw());
    view.renderer.domElement.addEventListener("webglcontextlost", () => still());
    root.classList.add("turns");
    fromAddress();
  };

  const still = () => {
    root.classList.remove("turns");
    root.dataset.view = "still";
    find("#turn").hidden = true;
  };

  try { start(); } catch (error) { still(); }
}
