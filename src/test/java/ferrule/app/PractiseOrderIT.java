package ferrule.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.AriaRole;
import com.microsoft.playwright.options.BoundingBox;
import java.util.List;
import org.junit.jupiter.api.Test;

/** An apprentice puts the steps of a procedure in order in a real browser: by keyboard, by finger, without script. */
class PractiseOrderIT extends ChromiumVisits {

  private static final String PRACTICE = "/procedures/water-key-cork/order?shuffle=11";

  /** An order of the work that works; others do too. */
  private static final List<String> RIGHT = List.of(
      "Find out where it leaks", "Free the spring", "Take out the screw", "Clean the nipple's rim",
      "Take out the old cork", "Size the new cork", "Wash grit away", "Cement the cork in", "Put lever and spring back",
      "Check seat and seal");

  @Test
  void byKeyboardAlone() {
    try (BrowserContext visitor = chromium.visitor(390, 844)) {
      Page page = practise(visitor);
      for (int place = 0; place < RIGHT.size(); place++) {
        for (int at = steps(page).indexOf(RIGHT.get(place)); at > place; at--) {
          Locator up = page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName("Up: " + RIGHT.get(place)));
          up.focus();
          Chromium.press(page, "Enter");
          String told = page.locator("[data-say]").textContent();
          assertEquals(RIGHT.get(place) + " is now step " + at + " of 10.", told);
        }
      }
      assertEquals(RIGHT, steps(page));
      page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName("Judge my order")).focus();
      Chromium.press(page, "Enter");
      page.getByRole(AriaRole.HEADING, new Page.GetByRoleOptions().setName("That order works")).waitFor();
    }
  }

  @Test
  void theFocusStaysInTheStepThatIsMovedToAnEnd() {
    try (BrowserContext visitor = chromium.visitor(820, 1180)) {
      Page page = practise(visitor);
      String second = steps(page).get(1);
      page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName("Up: " + second)).focus();
      Chromium.press(page, "Enter");
      assertEquals("Down: " + second, page.evaluate("document.activeElement.getAttribute('aria-label')"));
    }
  }

  @Test
  void byDragging() {
    try (BrowserContext visitor = chromium.visitor(820, 1180)) {
      Page page = practise(visitor);
      List<String> before = steps(page);
      Locator handles = page.locator("[data-order] .handle");
      BoundingBox from = handles.nth(6).boundingBox();
      BoundingBox to = page.locator("[data-order] li").nth(1).boundingBox();
      page.mouse().move(from.x + from.width / 2, from.y + from.height / 2);
      page.mouse().down();
      for (double y = from.y; y > to.y + 3; y -= 8) {
        page.mouse().move(from.x + 4, y);
      }
      page.mouse().move(from.x + 4, to.y + 3);
      page.mouse().up();
      assertEquals(before.get(6), steps(page).get(1));
      assertEquals(before.size(), steps(page).stream().distinct().count());
    }
  }

  @Test
  void withoutScript() {
    try (BrowserContext visitor = chromium.visitorWithoutScript(390, 844)) {
      Page page = practise(visitor);
      List<String> before = steps(page);
      page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName("Down: " + before.get(0))).click();
      assertEquals(before.get(0), steps(page).get(1));
      page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName("Judge my order")).click();
      assertTrue(page.locator("h1").textContent().contains("to move"));
      assertTrue(page.getByText("Change my order").isVisible());
    }
  }

  private static Page practise(BrowserContext visitor) {
    Page page = comeIn(visitor.newPage(), "Wren");
    page.navigate(ferrule.at(PRACTICE));
    return page;
  }

  private static List<String> steps(Page page) {
    return page.locator("[data-order] .what").allTextContents();
  }
}
