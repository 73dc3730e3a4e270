// What of the page does not fit, in words: parts by their selectors, each of them, those inside one another excepted.
(selectors) => {
  const found = [];
  const { scrollWidth, clientWidth } = document.documentElement;
  if (scrollWidth > clientWidth) found.push(`the page scrolls sideways: ${scrollWidth} in ${clientWidth}`);
  const boxes = selectors.flatMap((selector) =>
    [...document.querySelectorAll(selector)]
      .filter((element) => element.checkVisibility({ visibilityProperty: true }))
      .map((element, index) => ({ name: `${selector} ${index}`, element, box: element.getBoundingClientRect() })),
  );
  for (const { name, element, box } of boxes) {
    if (box.left < -0.5 || box.right > clientWidth + 0.5) found.push(`${name} reaches out of the page`);
    // A drawing's marks may reach over its edge; text may not.
    if (element instanceof SVGElement) continue;
    const contents = document.createRange();
    contents.selectNodeContents(element);
    const inside = contents.getBoundingClientRect();
    if (inside.width > 0 && inside.right > box.right + 1) found.push(`${name} is wider than its box`);
  }
  boxes.forEach((one, index) => {
    for (const other of boxes.slice(index + 1)) {
      if (one.element.contains(other.element) || other.element.contains(one.element)) continue;
      const across = Math.min(one.box.right, other.box.right) - Math.max(one.box.left, other.box.left);
      const down = Math.min(one.box.bottom, other.box.bottom) - Math.max(one.box.top, other.box.top);
      if (across > 1 && down > 1) found.push(`${one.name} lies over ${other.name}`);
    }
  });
  return found;
};
