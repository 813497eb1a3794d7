package ferrule.app;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.google.gson.JsonArray;
import com.google.gson.JsonObject;
import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.CDPSession;
import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.AriaRole;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;

/** The drawings in a real browser: labels, enlarging, and pointing at parts by keyboard, mouse and finger. */
class WalkTheInstrumentIT extends ChromiumVisits {

  private static final String TEXTS_AND_OVERLAPS =
      """
      () => {
        const shown = [...document.querySelectorAll('part-drawing .label')].filter(t => t.getClientRects().length);
        const boxes = shown.map(t => t.getBoundingClientRect());
        const svg = document.querySelector('part-drawing svg').getBoundingClientRect();
        const size = shown.map(t => parseFloat(getComputedStyle(t).fontSize) * t.getScreenCTM().a);
        let overlaps = 0;
        boxes.forEach((a, i) => boxes.slice(0, i).forEach(b => {
          const across = a.left < b.right - .5 && b.left < a.right - .5;
          if (across && a.top < b.bottom - .5 && b.top < a.bottom - .5) overlaps++;
        }));
        // a face's own line box is taller than its letters: a fifth of it may stand out
        const outside = boxes.filter(b => b.left < svg.left - 1 || b.right > svg.right + 1
          || b.top + b.height / 5 < svg.top || b.bottom - b.height / 5 > svg.bottom).length;
        return {count: shown.length, least: Math.min(...size), overlaps, outside};
      }
      """;

  private static Page visit(BrowserContext visitor, String path) {
    Page page = comeIn(visitor.newPage(), "Wren");
    page.navigate(ferrule.at(path));
    return page;
  }

  @Test
  void termsAreLegibleApartAndWithinTheDrawingInAWideWindow() {
    for (String path : List.of("/instrument/third-slide-assembly", "/instrument")) {
      for (int width : List.of(1440, 1060)) {
        try (BrowserContext visitor = chromium.visitor(width, 900)) {
          assertTidy(visit(visitor, path), path + " at " + width);
        }
      }
    }
  }

  @Test
  void numbersAreLegibleApartAndWithinTheDrawingOnAPhoneAndATablet() {
    for (int width : List.of(390, 820)) {
      try (BrowserContext visitor = chromium.visitor(width, 844)) {
        Page page = visit(visitor, "/instrument/third-slide-assembly");
        assertEquals(0, page.locator("part-drawing .labels.terms").count(), "no terms in a narrow window");
        assertTidy(page, "at " + width);
        page.setViewportSize(1440, 900);
        // the page changes its labels a moment after the window has changed
        assertThat(page.locator("part-drawing .labels.terms")).hasCount(1);
      }
    }
  }

  private static void assertTidy(Page page, String where) {
    page.waitForFunction("document.fonts.status === 'loaded' && !!customElements.get('part-drawing')");
    Map<?, ?> found = (Map<?, ?>) page.evaluate(TEXTS_AND_OVERLAPS);
    assertTrue(number(found, "count") > 4, where + ": " + found);
    assertTrue(number(found, "least") >= 12, where + ": " + found);
    assertEquals(0, number(found, "overlaps"), where + ": " + found);
    assertEquals(0, number(found, "outside"), where + ": " + found);
  }

  private static double number(Map<?, ?> found, String name) {
    return ((Number) found.get(name)).doubleValue();
  }

  @Test
  void theDrawingIsOneStopOfTheTabKeyAndEnterOpensThePart() {
    try (BrowserContext visitor = chromium.visitor(1440, 900)) {
      Page page = visit(visitor, "/instrument");
      page.locator("#name").focus();
      Chromium.press(page, "Tab");
      Chromium.press(page, "Tab");
      String first = focusedName(page);
      Chromium.press(page, "ArrowRight");
      String second = focusedName(page);
      assertFalse(first.isEmpty() || second.isEmpty() || first.equals(second), first + " then " + second);
      assertEquals(1, page.locator(".drawing-ring").count(), "a ring shows where the focus is");
      assertEquals(second, page.locator(".drawing-caption").textContent());
      Chromium.press(page, "Tab");
      assertEquals("BUTTON", page.evaluate("document.activeElement.tagName"), "the next stop is beyond the drawing");
      Chromium.press(page, "Shift+Tab");
      assertEquals(second, focusedName(page), "and back where one was");
      Chromium.press(page, "Enter");
      page.waitForURL("**/instrument/*");
      assertEquals(second, page.locator("h1").textContent());
    }
  }

  private static String focusedName(Page page) {
    return (String) page.evaluate("document.activeElement.getAttribute('aria-label') ?? ''");
  }

  @Test
  void arrowKeysAloneReachEveryPart() {
    try (BrowserContext visitor = chromium.visitor(1440, 900)) {
      for (String view : List.of("players-left", "players-right", "three-quarter-left")) {
        Page page = visit(visitor, "/instrument?view=" + view);
        Object missed =
            page.evaluate(
                """
                async () => {
                  const {neighbour} = await import(document.querySelector('script[src*="/drawing"]').src);
                  const {parts} = document.querySelector('part-drawing');
                  const reached = new Set([parts[0]]);
                  for (const part of reached) {
                    for (const way of [[1, 0], [-1, 0], [0, 1], [0, -1]]) {
                      const next = neighbour(parts, part, way);
                      if (next) reached.add(next);
                    }
                  }
                  return parts.filter(p => !reached.has(p)).map(p => p.name).join(', ');
                }
                """);
        assertEquals("", missed, "not reached from the first part of " + view);
        page.close();
      }
    }
  }

  @Test
  void aQuizDrawingCallsItsPartsByNumberOnly() {
    try (BrowserContext visitor = chromium.visitor(1440, 900)) {
      Page page = visit(visitor, "/instrument");
      page.evaluate(
          """
          () => {
            const quiz = document.createElement('part-drawing');
            for (const name of ['quiz', 'choose', 'disabled']) quiz.setAttribute(name, '');
            quiz.setAttribute('names', 'drawing-parts');
            const svg = document.querySelector('part-drawing svg').cloneNode(true);
            svg.querySelector('.drawing-over').remove();
            svg.querySelectorAll('[aria-label]').forEach(g => g.removeAttribute('aria-label'));
            quiz.append(svg);
            document.querySelector('figure').replaceChildren(quiz);
            quiz.removeAttribute('disabled');
            window.chosen = [];
            quiz.addEventListener('choose', event => window.chosen.push(event.detail.shape));
          }
          """);
      List<String> names =
          page.locator("part-drawing g.part[aria-label]").all().stream()
              .map(part -> part.getAttribute("aria-label")).toList();
      assertTrue(names.size() > 40, "parts: " + names.size());
      names.forEach(name -> assertTrue(name.matches("part \\d+ of " + names.size()), name));
      page.locator("part-drawing g.part[tabindex='0']").focus();
      Chromium.press(page, "End");
      Chromium.press(page, "Enter");
      assertEquals(List.of("part " + names.size() + " of " + names.size() + ", chosen"),
          page.locator("part-drawing g.part[aria-label*=chosen]").all().stream()
              .map(part -> part.getAttribute("aria-label")).toList());
      assertEquals(1, page.evaluate("window.chosen.length"));
      assertEquals(1, page.locator(".drawing-sign.is-chosen").count(), "the choice has a sign, not only a colour");
      page.evaluate("document.querySelector('part-drawing').setAttribute('disabled', '')");
      Chromium.press(page, "Home");
      Chromium.press(page, "Enter");
      assertEquals(1, page.evaluate("window.chosen.length"), "nothing can be chosen any more");
    }
  }

  @Test
  void theDrawingCanBeEnlargedByButtonKeyAndWheelAndGoesBackToWhole() {
    try (BrowserContext visitor = chromium.visitor(820, 1180)) {
      Page page = visit(visitor, "/instrument");
      Locator svg = page.locator("part-drawing svg");
      double whole = svg.boundingBox().width;
      page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName("Larger")).click();
      assertEquals(1.5 * whole, svg.boundingBox().width, 6);
      Chromium.press(page, "+");
      assertEquals(2.25 * whole, svg.boundingBox().width, 6);
      page.mouse().move(400, 420);
      page.evaluate(
          """
          () => document.querySelector('.drawing-pane').dispatchEvent(
            new WheelEvent('wheel', {deltaY: -100, ctrlKey: true, clientX: 400, clientY: 420, cancelable: true}))
          """);
      assertTrue(svg.boundingBox().width > 3 * whole, "control and wheel enlarge");
      double before = ((Number) page.evaluate("document.querySelector('.drawing-pane').scrollLeft")).doubleValue();
      page.mouse().down();
      page.mouse().move(300, 420);
      page.mouse().up();
      double after = ((Number) page.evaluate("document.querySelector('.drawing-pane').scrollLeft")).doubleValue();
      assertEquals(100, after - before, 2, "dragging moves it");
      assertTrue(page.url().endsWith("/instrument"), "and chooses nothing");
      page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName("Whole drawing")).click();
      assertEquals(whole, svg.boundingBox().width, 1);
      assertEquals(820, ((Number) page.evaluate("document.documentElement.scrollWidth")).intValue());
    }
  }

  @Test
  void aClickBesideASmallPartStillFindsIt() {
    try (BrowserContext visitor = chromium.visitor(1440, 900)) {
      Page page = visit(visitor, "/instrument");
      Object found =
          page.evaluate(
              """
              () => {
                const drawing = document.querySelector('part-drawing');
                for (const part of drawing.parts) {
                  const box = part.handle.getBoundingClientRect();
                  const x = box.left + box.width / 2;
                  const y = box.top - 8;
                  const hit = document.elementFromPoint(x, y);
                  if (box.height < 24 && hit && !hit.closest('g.part') && drawing.around(x, y, 6).length === 0
                      && drawing.around(x, y, 9)[0] === part) {
                    return drawing.nearest(x, y) === part ? 'found' : 'missed ' + part.name;
                  }
                }
                return 'no small part beside an empty place';
              }
              """);
      assertEquals("found", found);
    }
  }

  @Test
  void pointingAtANameLightsItsPartInTheDrawing() {
    try (BrowserContext visitor = chromium.visitor(1440, 900)) {
      Page page = visit(visitor, "/instrument/third-slide-crook");
      page.locator("#drawing-parts a[data-shape]").first().hover();
      assertTrue(page.locator("part-drawing g.part.is-pointed").count() > 0);
      page.mouse().move(5, 5);
      assertEquals(0, page.locator("part-drawing g.part.is-pointed").count());
    }
  }

  @Test
  void thePagesAreSoundForPeopleWithDisabilitiesInAWideWindow() {
    try (BrowserContext visitor = chromium.visitor(1440, 900)) {
      for (String path : List.of("/instrument", "/instrument/third-slide-assembly", "/instrument/third-slide-crook",
          "/instrument/knuckle", "/instrument/find?name=ferrule")) {
        Page page = visit(visitor, path);
        assertEquals(List.of(), Chromium.seriousFindings(page));
        page.close();
      }
    }
  }

  @Test
  void aFingerAmongSmallPartsGetsALargerDrawingFirstAndThenThePart() {
    try (BrowserContext visitor = chromium.visitorWithTouch(390, 844)) {
      Page page = visit(visitor, "/instrument");
      Map<?, ?> place =
          (Map<?, ?>) page.evaluate(
              """
              () => {
                const drawing = document.querySelector('part-drawing');
                drawing.scrollIntoView();
                for (const part of drawing.parts) {
                  const at = new DOMPoint(part.x, part.y).matrixTransform(drawing.svg.getScreenCTM());
                  if (drawing.isCrowded(at.x, at.y)) return {x: at.x, y: at.y};
                }
                return {};
              }
              """);
      page.touchscreen().tap(number(place, "x"), number(place, "y"));
      page.waitForFunction("document.querySelector('part-drawing').classList.contains('is-large')");
      assertTrue(page.url().endsWith("/instrument"), "nothing is chosen yet");
      assertEquals("Small parts here: touch again.", page.locator(".drawing-caption").textContent());
      for (int i = 0; i < 4 && page.url().endsWith("/instrument"); i++) {
        page.touchscreen().tap(number(place, "x"), number(place, "y"));
        page.waitForTimeout(300);
      }
      assertTrue(page.url().contains("/instrument/"), "then the part opens: " + page.url());
    }
  }

  @Test
  void twoFingersDrawnApartEnlargeTheDrawingAboutTheirMiddleAndChooseNothing() {
    try (BrowserContext visitor = chromium.visitorWithTouch(390, 844)) {
      Page page = visit(visitor, "/instrument");
      Locator svg = page.locator("part-drawing svg");
      svg.scrollIntoViewIfNeeded();
      double whole = svg.boundingBox().width;
      double x = svg.boundingBox().x + 0.6 * whole;
      double y = svg.boundingBox().y + svg.boundingBox().height / 2;
      CDPSession fingers = visitor.newCDPSession(page);
      touch(fingers, "touchStart", x - 20, y, x + 20, y);
      for (int apart = 25; apart <= 60; apart += 5) {
        touch(fingers, "touchMove", x - apart, y, x + apart, y);
      }
      touch(fingers, "touchEnd");
      assertEquals(3 * whole, svg.boundingBox().width, 0.1 * whole);
      double share = (x - svg.boundingBox().x) / svg.boundingBox().width;
      assertEquals(0.6, share, 0.03, "what lay between the fingers still does");
      assertTrue(page.url().endsWith("/instrument"), "nothing is chosen");
    }
  }

  private static void touch(CDPSession fingers, String type, double... places) {
    JsonArray points = new JsonArray();
    for (int i = 0; i < places.length; i += 2) {
      JsonObject point = new JsonObject();
      point.addProperty("x", places[i]);
      point.addProperty("y", places[i + 1]);
      point.addProperty("id", i / 2);
      points.add(point);
    }
    JsonObject event = new JsonObject();
    event.addProperty("type", type);
    event.add("touchPoints", points);
    fingers.send("Input.dispatchTouchEvent", event);
  }

  @Test
  void everythingReadsWithoutScript() {
    try (BrowserContext visitor = chromium.visitorWithoutScript(390, 844)) {
      Page page = visit(visitor, "/instrument/third-slide-assembly");
      assertTrue(page.locator("part-drawing > svg").first().isVisible());
      assertTrue(page.locator("#drawing-parts a").count() > 4);
      page.locator("#drawing-parts a").first().click();
      assertTrue(page.locator("h1").isVisible());
    }
  }
}
