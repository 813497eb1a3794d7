package ferrule.app;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.assertions.LocatorAssertions;
import com.microsoft.playwright.options.AriaRole;
import ferrule.drill.Assignment;
import ferrule.drill.Conditions;
import ferrule.drill.DrillStore;
import ferrule.drill.ItemKind;
import ferrule.drill.Plan;
import ferrule.drill.Sitting;
import ferrule.glossary.ConceptId;
import java.time.Instant;
import java.time.LocalDate;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;

/** A drill that was started goes on when the cable is pulled. */
class DrillWithoutNetworkIT extends ChromiumVisits {

  private static DrillStore store() {
    return new DrillStore(ferrule.installation.database());
  }

  private static Assignment set(String title, Set<ItemKind> kinds, int length) {
    Assignment a =
        new Assignment(
            UUID.randomUUID(), DemoProgramme.id("first year"), Set.of(DemoProgramme.id("Wren Aldous")),
            DemoProgramme.id("Isolde Farrow"), title,
            Plan.ofAssemblies(List.of(ConceptId.of("third-slide-assembly")), kinds, length, true),
            Conditions.dueOn(LocalDate.now().plusDays(30)), Instant.now(), Optional.empty());
    store().assignments().add(a);
    return a;
  }

  private static Locator button(Page page, String name) {
    return page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName(name));
  }

  @Test
  void itGoesOnWithoutANetworkAndAReloadAndEveryAnswerCountsOnce() {
    Assignment a = set("No line", EnumSet.of(ItemKind.NAME, ItemKind.FIND), 4);
    Cable cable = new Cable(ferrule.port());
    try (cable; BrowserContext visitor = chromium.visitor(390, 844)) {
      Page page = visitor.newPage();
      page.navigate(cable.at("/sign-in"));
      button(page, "Come in as Wren").click();
      button(page, "Start with " + a.title()).click();
      page.waitForURL(Pattern.compile(".*/drill/.*/1$"));
      Sitting sitting =
          store().sitting(UUID.fromString(page.url().replaceAll(".*/drill/([0-9a-f-]{36}).*", "$1"))).orElseThrow();
      assertThat(page.locator("[data-ahead=whole]"))
          .isVisible(new LocatorAssertions.IsVisibleOptions().setTimeout(40_000));
      awaitWorker(page);
      assertThat(page.locator("[data-ahead=whole]"))
          .isVisible(new LocatorAssertions.IsVisibleOptions().setTimeout(40_000));
      cable.cut();
      answer(page, sitting, 1);
      assertThat(page.locator("[data-sending]")).containsText("Your answer is kept on this device");
      button(page, "Go on without a network").click();
      page.waitForURL(Pattern.compile(".*/2$"));
      assertThat(page.locator(".offline")).isVisible();
      assertEquals(List.of(), Chromium.seriousFindings(page));
      page.reload();
      answer(page, sitting, 2);
      page.waitForURL(Pattern.compile(".*/3$"));
      assertThat(page.locator("[data-sending]")).containsText("No network");
      String address = page.url();
      page.close();
      Page again = visitor.newPage();
      again.navigate(address);
      answer(again, sitting, 3);
      again.waitForURL(Pattern.compile(".*/4$"));
      answer(again, sitting, 4);
      assertThat(again.locator("h1")).hasText("All questions are answered");
      assertThat(again.locator("main")).containsText("4 answers wait");
      assertEquals(0, store().responses(sitting.id()).size());
      cable.mend();
      cable.loseReplies("POST /device/envelopes", 3);
      again.reload();
      // the page that came first still asks; what waits is delivered and leads on
      again.waitForURL(Pattern.compile(".*/result$"), new Page.WaitForURLOptions().setTimeout(60_000));
      assertEquals(4, store().responses(sitting.id()).size());
      assertEquals(
          4, store().responses(sitting.id()).stream().map(r -> r.item().position()).distinct().count());
      assertFalse(again.content().contains("answered before"));
    }
  }

  private static void answer(Page page, Sitting sitting, int position) {
    ItemKind kind = sitting.item(position).orElseThrow().kind();
    if (kind == ItemKind.NAME) {
      page.locator("#answer").fill("crook");
      button(page, "Answer").click();
    } else {
      button(page, "I do not know").click();
    }
  }
}
