// Text of the page that is cut off, reaches out of the page or out of what holds it; what is scrolled by itself excepted.
() => {
  const found = [];
  const { clientWidth, scrollWidth } = document.documentElement;
  if (scrollWidth > clientWidth) found.push(`the page scrolls sideways: ${scrollWidth} in ${clientWidth}`);
  for (const element of document.querySelectorAll('body *')) {
    if (element.closest('svg, .unseen') || !element.checkVisibility({ visibilityProperty: true })) continue;
    const box = element.getBoundingClientRect();
    const name = `${element.localName}.${element.className} “${element.textContent.slice(0, 40)}”`;
    const style = getComputedStyle(element);
    if (['hidden', 'clip'].includes(style.overflowX) && element.scrollWidth > element.clientWidth + 1)
      found.push(`${name} is cut off`);
    if (element.closest('dialog, [popover]') || isScrolled(element.parentElement)) continue;
    if (box.right > clientWidth + 1 || box.left < -1) found.push(`${name} reaches out of the page`);
    const room = element.parentElement?.getBoundingClientRect();
    if (style.whiteSpace === 'nowrap' && room && box.right > room.right + 1)
      found.push(`${name} is wider than its room`);
  }
  return found;

  function isScrolled(from) {
    for (let around = from; around; around = around.parentElement) {
      if (['auto', 'scroll'].includes(getComputedStyle(around).overflowX)) return true;
    }
    return false;
  }
};
