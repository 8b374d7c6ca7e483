"""What does not fit a page: words that run off the side, are cut, or leave the box they stand in."""

from playwright.sync_api import Page
from served import DRAWN_FOR_SIZE

from tests.chromium import until

__all__ = ["does_not_fit"]

_LOOK = """() => {
    const found = [], wide = document.documentElement.clientWidth, main = document.querySelector('main');
    const say = (what, one) => found.push(what + ': ' + (one.textContent || '').trim().slice(0, 60));
    const shown = one => one.checkVisibility({visibilityProperty: true, opacityProperty: false});
    const spoken = one => one.closest('.spoken, [hidden], .ag-overlay, .ag-aria-description-container') !== null;
    const scrolls = one => {
        for (let up = one; up && up !== main; up = up.parentElement) {
            if (['auto', 'scroll'].includes(getComputedStyle(up).overflowX) && up.scrollWidth > up.clientWidth) {
                return true;
            }
        }
        return one.closest('.ag-root') !== null;
    };
    const words = one => {
        const boxes = [];
        for (const node of one.childNodes) {
            if (node.nodeType === Node.TEXT_NODE && node.textContent.trim()) {
                const range = document.createRange();
                range.selectNodeContents(node);
                boxes.push(...range.getClientRects());
            }
        }
        return boxes;
    };

    if (document.documentElement.scrollWidth > wide) found.push('the page is wider than the screen');
    if (main.scrollWidth > main.clientWidth + 1) found.push('what scrolls is wider than the screen');
    if (getComputedStyle(main).overflowY === 'auto' && document.documentElement.scrollHeight > window.innerHeight + 1)
        found.push('the page scrolls on below what scrolls');

    for (const one of document.querySelectorAll('body *')) {
        if (one.closest('svg') || spoken(one) || !shown(one)) continue;
        const boxes = words(one);
        if (!boxes.length) continue;
        if (boxes.some(box => box.right > wide + 1 || box.left < -1) && !scrolls(one)) say('off the side', one);
        const look = getComputedStyle(one);
        if (look.overflowX !== 'visible' && look.overflowX !== 'auto' && one.scrollWidth > one.clientWidth + 1)
            say('cut', one);
        const box = one.closest('button, a.touch, summary')?.getBoundingClientRect();
        if (box && boxes.some(each => each.left < box.left - 1 || each.right > box.right + 1
                || each.top < box.top - 2 || each.bottom > box.bottom + 2)) say('out of its button', one);
    }

    for (const plot of document.querySelectorAll('.js-plotly-plot')) {
        if (!shown(plot)) continue;
        const room = plot.getBoundingClientRect();
        const texts = '.annotation-text, .xtick text, .ytick text, .legendtext, .xtitle, .ytitle';
        for (const one of plot.querySelectorAll(texts)) {
            const box = one.getBoundingClientRect();
            if (box.width && (box.left < room.left - 2 || box.right > room.right + 2 || box.bottom > room.bottom + 2))
                say('out of its figure', one);
        }
        const ticks = [...plot.querySelectorAll('.xtick text')].map(one => [one, one.getBoundingClientRect()]);
        ticks.forEach(([one, box], n) => ticks.slice(n + 1).forEach(([_, other]) => {
            if (Math.min(box.right, other.right) > Math.max(box.left, other.left) + 1
                && Math.min(box.bottom, other.bottom) > Math.max(box.top, other.top) + 1) say('on another tick', one);
        }));
    }
    return found;
}"""
"""Words in what scrolls by itself, such as a wide table, can be brought into view and are not off the side."""


def does_not_fit(page: Page) -> list[str]:
    """Return what does not fit the page as it is shown once its figures are drawn for its size, with the words."""
    found: list[list[str]] = until(page, f"{DRAWN_FOR_SIZE} && [({_LOOK})()]")
    return found[0]
