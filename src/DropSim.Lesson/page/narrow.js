"use strict";
// On a phone the first screen is the picture, the six inputs and the answers; scenario and units stand in the menu, the rest follows below, in the
// same order for eyes and keys.
lesson.narrow = (() => {
  const { byId } = lesson;
  const phone = window.matchMedia("(max-width: 760px)");

  function place() {
    const focused = document.activeElement;
    const picks = [byId("scenario-field"), byId("units-pick")];
    if (phone.matches) {
      byId("main").append(byId("ask-more"), byId("look-more"));
      byId("menu-body").prepend(...picks);
    } else {
      for (const part of ["ask", "look"]) byId(part).append(byId(`${part}-more`));
      byId("reset").before(...picks);
    }
    if (focused && focused !== document.activeElement) focused.focus({ preventScroll: true });
  }

  function setUp() {
    place();
    phone.addEventListener("change", place);
  }

  return { setUp };
})();
