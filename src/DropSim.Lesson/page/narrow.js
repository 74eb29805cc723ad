"use strict";
// On a phone the first screen is the picture, the six inputs and the five answers; the rest follows below, in the same order for eyes and keys.
lesson.narrow = (() => {
  const { byId } = lesson;
  const phone = window.matchMedia("(max-width: 760px)");

  function place() {
    const focused = document.activeElement;
    if (phone.matches) byId("main").append(byId("ask-more"), byId("look-more"));
    else for (const part of ["ask", "look"]) byId(part).append(byId(`${part}-more`));
    if (focused && focused !== document.activeElement) focused.focus({ preventScroll: true });
  }

  function setUp() {
    place();
    phone.addEventListener("change", place);
  }

  return { setUp };
})();
