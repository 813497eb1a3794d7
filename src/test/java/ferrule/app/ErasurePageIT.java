package ferrule.app;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.junit.jupiter.api.Assertions.assertEquals;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.AriaRole;
import ferrule.people.Person;
import java.util.List;
import java.util.UUID;
import org.junit.jupiter.api.Test;

/** A coordinator erases an apprentice in Chromium. */
class ErasurePageIT extends ChromiumVisits {

  private static final String NAME = "Greta Soames";

  private static void isSound(Page page) {
    assertEquals(List.of(), Chromium.seriousFindings(page));
  }

  private static void press(Page page, String button) {
    Chromium.press(page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName(button)), "Enter");
  }

  @Test
  void anApprenticeIsErasedAfterAPreviewAndATypedConfirmation() {
    UUID id = DemoProgramme.id(NAME);
    for (int width : List.of(390, 1280)) {
      try (BrowserContext visitor = chromium.visitor(width, 844)) {
        Page page = visitor.newPage();
        page.navigate(ferrule.at("/sign-in"));
        page.getByLabel("Name", new Page.GetByLabelOptions().setExact(true)).fill("magnus");
        page.getByLabel("Password").fill("river ledger");
        page.waitForNavigation(() -> Chromium.press(page.getByLabel("Password"), "Enter"));
        page.navigate(ferrule.at("/people/" + id + "/erase"));
        assertThat(page.getByRole(AriaRole.HEADING, new Page.GetByRoleOptions().setName("What goes"))).isVisible();
        assertThat(page.getByText("What was signed about them, word for word.")).isVisible();
        isSound(page);
        Number excess = (Number) page.evaluate("document.documentElement.scrollWidth - window.innerWidth");
        assertEquals(0, Math.max(0, excess.intValue()), "wider than a screen of " + width);
      }
    }
    try (BrowserContext visitor = chromium.visitor(1280, 900)) {
      Page page = visitor.newPage();
      page.navigate(ferrule.at("/sign-in"));
      page.getByLabel("Name", new Page.GetByLabelOptions().setExact(true)).fill("magnus");
      page.getByLabel("Password").fill("river ledger");
      page.waitForNavigation(() -> Chromium.press(page.getByLabel("Password"), "Enter"));
      page.navigate(ferrule.at("/people/" + id + "/account"));
      page.getByRole(AriaRole.LINK, new Page.GetByRoleOptions().setName("Erase them")).click();

      page.getByLabel("Why").fill("Asked for it by letter.");
      page.getByLabel("They leave the programme today").check();
      page.getByLabel("Their full name, typed out").fill("Greta Somes");
      press(page, "Erase for good");
      assertThat(page.getByRole(AriaRole.ALERT)).containsText("Type the full name as it stands above.");
      assertThat(page.getByLabel("Why")).hasValue("Asked for it by letter.");
      isSound(page);
      assertEquals(NAME, fullName(id), "nothing was erased");

      page.getByLabel("They leave the programme today").check();
      page.getByLabel("Their full name, typed out").fill(NAME);
      press(page, "Erase for good");
      assertThat(page.getByText("vouches for")).isVisible();
      String pseudonym = fullName(id);
      assertThat(page.getByRole(AriaRole.HEADING, new Page.GetByRoleOptions().setLevel(1))).containsText(pseudonym);
      assertThat(page.getByText("Who they were has been taken away")).isVisible();
      isSound(page);

      page.navigate(ferrule.at("/people"));
      assertThat(page.getByText(pseudonym).first()).isVisible();
      assertThat(page.getByText(NAME)).hasCount(0);
      isSound(page);
      assertEquals(409, page.navigate(ferrule.at("/people/" + id + "/erase")).status(), "it is done once");
      assertEquals(409, page.navigate(ferrule.at("/people/" + DemoProgramme.id("Isolde Farrow") + "/erase")).status());
    }
  }

  private static String fullName(UUID id) {
    return ferrule.installation.people().person(id).map(Person::fullName).orElseThrow();
  }
}
