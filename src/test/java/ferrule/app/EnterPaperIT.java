package ferrule.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.assertions.PlaywrightAssertions;
import com.microsoft.playwright.options.AriaRole;
import org.junit.jupiter.api.Test;

/** An instructor enters the papers of a class at a tablet in a real browser. */
class EnterPaperIT extends ChromiumVisits {

  @Test
  void byFingerOnePaperAndByKeyboardTheNext() {
    try (BrowserContext visitor = chromium.visitor(820, 1180)) {
      Page page = comeIn(visitor.newPage(), "Isolde");
      page.navigate(ferrule.at("/class/paper/new"));
      page.locator("input[value=third-slide-assembly]").check();
      page.locator("#length").fill("6");
      page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName("Make it")).click();
      page.getByRole(AriaRole.LINK, new Page.GetByRoleOptions().setName("Enter points")).click();
      String first = page.locator("h1").textContent();
      page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName("B").setExact(true)).click();

      tap(page, "1 Right");
      tap(page, "2 Wrong");
      pressed(page, "2 Wrong");
      page.getByLabel("3, as it was written").fill("third slide upper inner tube");
      page.locator("#n3 .written button").click();
      PlaywrightAssertions.assertThat(page.locator("#n3 .verdict .tag")).isVisible();
      page.reload();
      pressed(page, "1 Right");
      assertEquals("third slide upper inner tube", page.getByLabel("3, as it was written").inputValue(), "it is kept");
      page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName("Undo")).click();
      PlaywrightAssertions.assertThat(page.locator("[data-marked]")).hasText("2");
      page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName("The rest right")).click();
      PlaywrightAssertions.assertThat(page.locator("[data-points]")).hasText("5");
      assertTrue(fits(page), "nothing is wider than the tablet");
      page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName("Enter and go on")).click();
      PlaywrightAssertions.assertThat(page.locator(".note").first()).containsText("Entered: the paper of " + first);

      Chromium.press(page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName("A").setExact(true)), "Enter");
      page.locator(".mark-row.is-here").waitFor(); // its script listens
      page.locator("body").focus();
      for (String key : new String[] {"r", "h", "w", "0", "r", "r"}) {
        page.keyboard().press(key);
      }
      PlaywrightAssertions.assertThat(page.locator("[data-marked]")).hasText("6");
      PlaywrightAssertions.assertThat(page.locator("[data-points]")).hasText("3.5");
      Chromium.press(page, "u");
      PlaywrightAssertions.assertThat(page.locator("[data-marked]")).hasText("5");
      Chromium.press(page, "r");
      PlaywrightAssertions.assertThat(page.locator("[data-marked]")).hasText("6");
      Chromium.press(page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName("Enter and go on")), "Enter");
      PlaywrightAssertions.assertThat(page.locator(".tally").first()).containsText("2 of");
    }
  }

  @Test
  void aTapThatIsNotKeptSaysSo() {
    try (BrowserContext visitor = chromium.visitor(820, 1180)) {
      Page page = comeIn(visitor.newPage(), "Isolde");
      page.navigate(ferrule.at("/class/paper/new"));
      page.locator("input[value=bell-assembly]").check();
      page.locator("#length").fill("3");
      page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName("Make it")).click();
      page.getByRole(AriaRole.LINK, new Page.GetByRoleOptions().setName("Enter points")).click();
      page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName("A").setExact(true)).click();
      page.locator(".mark-row.is-here").waitFor(); // its script listens
      visitor.setOffline(true);
      tap(page, "1 Right");
      PlaywrightAssertions.assertThat(page.locator("#n1 .verdict")).containsText("That was not kept");
      assertEquals("false", button(page, "1 Right").getAttribute("aria-pressed"));
      visitor.setOffline(false);
      tap(page, "1 Right");
      pressed(page, "1 Right");
    }
  }

  private static Locator button(Page page, String name) {
    return page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName(name).setExact(true));
  }

  private static void tap(Page page, String name) {
    button(page, name).click();
  }

  private static void pressed(Page page, String name) {
    PlaywrightAssertions.assertThat(button(page, name)).hasAttribute("aria-pressed", "true");
  }

  private static boolean fits(Page page) {
    return (Boolean) page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth");
  }
}
