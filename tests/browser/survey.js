// Looks over one page and returns what the tests judge. Run in the page, not part of the product.
() => {
  const all = (selector) => Array.from(document.querySelectorAll(selector));
  const seen = (one) => one.getClientRects().length > 0 && !one.closest(".hidden, .skip");
  const short = (one) => one.outerHTML.slice(0, 100);
  const named = (one) => one.getAttribute("aria-label") || one.textContent.trim() || one.title
    || (one.labels && Array.from(one.labels, (label) => label.textContent.trim()).join(""));

  function background(one) {
    for (let at = one; at; at = at.parentElement) {
      const colour = getComputedStyle(at).backgroundColor;
      if (!/^rgba\(.*, 0\)$/.test(colour)) return colour;
    }
    return "rgb(255, 255, 255)";
  }

  const colours = new Map();
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const one = walker.currentNode.parentElement;
    if (!walker.currentNode.data.trim() || !seen(one) || one.closest("svg, script")) continue;
    const pair = getComputedStyle(one).color + " on " + background(one);
    if (!colours.has(pair)) colours.set(pair, short(one));
  }

  function target(one) {
    const area = ["checkbox", "radio"].includes(one.type) ? one.closest("label") : one;
    const box = area.getBoundingClientRect();
    return [Math.round(box.width * 10) / 10, Math.round(box.height * 10) / 10, short(one)];
  }

  return {
    lang: document.documentElement.lang,
    title: document.title,
    headings: all("h1, h2, h3, h4, h5, h6").map((one) => Number(one.tagName[1])),
    landmarks: ["header", "main", "footer"].map((name) => all(name).length),
    unnamed: all("a, button, input, select, textarea, summary").filter((one) => !named(one)).map(short),
    silent: all("img:not([alt]), [role=img]:not([aria-label])").map(short),
    unshown: Array.from(document.images).filter((one) => !one.naturalWidth).map(short),
    loose: all("th:not([scope])").map(short),
    colours: Array.from(colours),
    targets: all("button, input, select, .sheet, .home, .jump, .step summary").filter(seen)
      .map(target),
    // A link among words is as high as its line; the criterion leaves those out.
    small: all("a, summary").filter(seen)
      .filter((one) => one.parentElement.textContent.trim() === one.textContent.trim()).map(target),
  };
}
