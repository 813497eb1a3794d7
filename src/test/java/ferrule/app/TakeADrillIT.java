package ferrule.app;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.assertions.LocatorAssertions;
import com.microsoft.playwright.options.AriaRole;
import ferrule.drill.Assignment;
import ferrule.drill.Conditions;
import ferrule.drill.DrillStore;
import ferrule.drill.Item;
import ferrule.drill.ItemKind;
import ferrule.drill.Plan;
import ferrule.drill.Response;
import ferrule.drill.Sitting;
import ferrule.glossary.ConceptId;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;

/** Taking a drill in a real browser: by keyboard, over a bad line, in two tabs, on a telephone, and being watched. */
class TakeADrillIT extends ChromiumVisits {

  private static final ConceptId SLIDE = ConceptId.of("third-slide-assembly");
  private static final LocalDate FAR = LocalDate.now().plusDays(30);

  private static DrillStore store() {
    return new DrillStore(ferrule.installation.database());
  }

  /** Sets a drill for Wren's cohort and returns it. */
  private static Assignment set(String title, Set<ItemKind> kinds, int length, Conditions conditions) {
    Assignment a =
        new Assignment(
            UUID.randomUUID(), DemoProgramme.id("first year"), Set.of(DemoProgramme.id("Wren Aldous")),
            DemoProgramme.id("Isolde Farrow"), title, Plan.ofAssemblies(List.of(SLIDE), kinds, length, true), conditions,
            Instant.now(), Optional.empty());
    store().assignments().add(a);
    return a;
  }

  private static Assignment naming(String title, int length) {
    return set(title, EnumSet.of(ItemKind.NAME), length, Conditions.dueOn(FAR));
  }

  private static Page start(BrowserContext visitor, Assignment a) {
    Page page = comeIn(visitor.newPage(), "Wren");
    button(page, "Start with " + a.title()).click();
    page.waitForURL(Pattern.compile(".*/drill/.*/1$"));
    return page;
  }

  private static Locator button(Page page, String name) {
    return page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName(name));
  }

  private static Sitting sitting(Page page) {
    UUID id = UUID.fromString(page.url().replaceAll(".*/drill/([0-9a-f-]{36}).*", "$1"));
    return store().sitting(id).orElseThrow();
  }

  private static List<String> typed(Sitting sitting) {
    return store().responses(sitting.id()).stream().map(r -> r.typed().orElse("")).toList();
  }

  private static String term(Item item) {
    return ferrule.installation.books().glossary().get(item.key()).term();
  }

  /** Goes on with the Tab key until something with this name has the focus. */
  private static void tabTo(Page page, Pattern name) {
    List<String> passed = new ArrayList<>();
    for (int i = 0; i < 80; i++) {
      String here =
          (String) page.evaluate("(document.activeElement.innerText || '').replace(/\\s+/g, ' ').trim()");
      if (name.matcher(here).matches()) {
        return;
      }
      passed.add(here.length() > 60 ? "..." : here);
      Chromium.press(page, "Tab");
    }
    throw new AssertionError("the Tab key never came to " + name + ", but to " + passed);
  }

  @Test
  void aWholeDrillByKeyboardAlone() {
    Assignment a =
        set("Keys only", EnumSet.of(ItemKind.NAME, ItemKind.FIND, ItemKind.CHOOSE_NAME), 6, Conditions.dueOn(FAR));
    try (BrowserContext visitor = chromium.visitor(1280, 800)) {
      Page page = comeIn(visitor.newPage(), "Wren");
      tabTo(page, Pattern.compile("Start with " + a.title(), Pattern.CASE_INSENSITIVE));
      Chromium.press(page, "Enter");
      page.waitForURL(Pattern.compile(".*/drill/.*/1$"));
      Sitting sitting = sitting(page);
      for (Item item : sitting.items()) {
        answerByKey(page, item);
        assertThat(page.locator("#verdict")).isVisible();
        tabTo(page, Pattern.compile("Next|See the result"));
        Chromium.press(page, "Enter");
        page.waitForURL(Pattern.compile(".*/(" + (item.position() + 1) + "|result)$"));
      }
      assertThat(page.locator(".score")).isVisible();
      List<Response> all = store().responses(sitting.id());
      assertEquals(6, all.size());
      assertTrue(all.stream().filter(r -> r.item().kind() == ItemKind.NAME).allMatch(r -> r.now().isRight()), all.toString());
    }
  }

  private static void answerByKey(Page page, Item item) {
    switch (item.kind()) {
      case NAME -> {
        page.keyboard().type(term(item));
        Chromium.press(page, "Enter");
      }
      case FIND -> {
        page.locator("part-drawing .pane, part-drawing svg").first().waitFor();
        for (int i = 0; i < 40 && !inDrawing(page); i++) {
          Chromium.press(page, "Tab");
        }
        assertTrue(inDrawing(page), "the Tab key comes to the drawing");
        Chromium.press(page, "ArrowRight");
        Chromium.press(page, "Enter");
        assertEquals("This is it", page.evaluate("document.activeElement.innerText.trim()"));
        Chromium.press(page, "Enter");
      }
      default -> {
        Chromium.press(page, "Space");
        tabTo(page, Pattern.compile("Answer"));
        Chromium.press(page, "Enter");
      }
    }
  }

  private static boolean inDrawing(Page page) {
    return (Boolean) page.evaluate("!!document.activeElement.closest('part-drawing')");
  }

  @Test
  void anAnswerOverADroppedConnectionIsKeptAndSentByItself() {
    Assignment a = naming("Bad line", 3);
    try (BrowserContext visitor = chromium.visitor(390, 844)) {
      Page page = start(visitor, a);
      Sitting sitting = sitting(page);
      visitor.setOffline(true);
      page.locator("#answer").fill("spanner");
      button(page, "Answer").click();
      assertThat(page.locator("[data-sending]")).containsText("Your answer is kept on this device");
      assertEquals(List.of(), typed(sitting));
      visitor.setOffline(false);
      assertThat(page.locator("#verdict")).isVisible();
      assertEquals(List.of("spanner"), typed(sitting));
    }
  }

  @Test
  void anAnswerThatWasNotSentIsSentWhenItsPageIsOpenedAgain() {
    Assignment a = naming("Closed lid", 2);
    try (BrowserContext visitor = chromium.visitor(390, 844)) {
      Page page = start(visitor, a);
      Sitting sitting = sitting(page);
      String address = page.url();
      visitor.setOffline(true);
      page.locator("#answer").fill("crook");
      button(page, "Answer").click();
      assertThat(page.locator("[data-sending]")).isVisible();
      page.close();
      assertEquals(List.of(), typed(sitting));
      visitor.setOffline(false);
      Page again = visitor.newPage();
      again.navigate(address);
      assertThat(again.locator("#verdict")).isVisible();
      assertEquals(List.of("crook"), typed(sitting));
    }
  }

  @Test
  void anAnswerThatArrivedThoughItsReplyDidNotCountsOnce() {
    Assignment a = naming("Lost reply", 2);
    try (BrowserContext visitor = chromium.visitor(820, 1180)) {
      Page page = start(visitor, a);
      Sitting sitting = sitting(page);
      List<Integer> tries = new ArrayList<>();
      page.route(
          Pattern.compile(".*/drill/.*/1$"),
          route -> {
            if (route.request().method().equals("POST") && tries.isEmpty()) {
              tries.add(1);
              route.fetch(); // the server has it, the page never hears of it
              route.abort();
            } else {
              route.resume();
            }
          });
      page.locator("#answer").fill("crook");
      button(page, "Answer").click();
      assertThat(page.locator("#verdict")).isVisible();
      assertEquals(List.of("crook"), typed(sitting));
      assertEquals(0, page.getByText("answered before").count(), "it is the same answer, so nobody is told off");
    }
  }

  @Test
  void aDoubleTapCountsOnce() {
    Assignment a = naming("Double tap", 2);
    try (BrowserContext visitor = chromium.visitorWithTouch(390, 844)) {
      Page page = start(visitor, a);
      Sitting sitting = sitting(page);
      page.locator("#answer").fill("crook");
      button(page, "Answer").dblclick();
      assertThat(page.locator("#verdict")).isVisible();
      assertEquals(List.of("crook"), typed(sitting));
      assertEquals(0, page.getByText("answered before").count());
    }
  }

  @Test
  void ofTwoTabsTheFirstAnswerCountsAndTheSecondIsToldSo() {
    Assignment a = naming("Two tabs", 2);
    try (BrowserContext visitor = chromium.visitor(820, 1180)) {
      Page first = start(visitor, a);
      Sitting sitting = sitting(first);
      Page second = visitor.newPage();
      second.navigate(first.url());
      first.locator("#answer").fill("crook");
      button(first, "Answer").click();
      assertThat(first.locator("#verdict")).isVisible();
      second.locator("#answer").fill("spanner");
      button(second, "Answer").click();
      assertThat(second.locator("main")).containsText("answered before");
      assertThat(second.locator("main")).containsText("“crook”");
      assertEquals(List.of("crook"), typed(sitting));
    }
  }

  @Test
  void nothingStandsOverTheEdgeOnATelephoneOrAtTwiceTheSize() {
    // a window 1280 px wide at 200 % is as wide as one of 640 px
    for (int width : new int[] {390, 640}) {
      Conditions clock = Conditions.dueOn(FAR).withLimit(Duration.ofMinutes(20)).withAttempts(2, Conditions.Counts.BEST);
      Assignment a = set("On " + width, EnumSet.of(ItemKind.NAME, ItemKind.FIND), 2, clock);
      try (BrowserContext visitor = chromium.visitor(width, 700)) {
        Page page = comeIn(visitor.newPage(), "Wren");
        fits(page);
        page.navigate(ferrule.at("/practise/drills/" + a.id()));
        fits(page);
        button(page, "Start the clock").click();
        page.waitForURL(Pattern.compile(".*/1$"));
        assertThat(page.locator("[data-clock]")).containsText("left");
        for (int i = 1; i <= 2; i++) {
          fits(page);
          button(page, "I do not know").click();
          assertThat(page.locator("#verdict")).isVisible();
          fits(page);
          page.getByRole(AriaRole.LINK, new Page.GetByRoleOptions().setName(Pattern.compile("Next|See the result"))).click();
        }
        assertThat(page.locator("main")).containsText("This attempt counts");
        fits(page);
        Page isolde = comeIn(visitor.newPage(), "Isolde");
        for (String path : List.of("/class", "/class/drills/new", "/class/drills/" + a.id(), "/class/drills/" + a.id() + "/time")) {
          isolde.navigate(ferrule.at(path));
          fits(isolde);
          assertEquals(List.of(), Chromium.seriousFindings(isolde));
        }
      }
    }
  }

  private static void fits(Page page) {
    int over = (Integer) page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth");
    assertTrue(over <= 0, page.url() + " stands " + over + " px over the edge");
  }

  @Test
  void theInstructorSeesTheAnswersComeInWithoutLoadingThePageAgain() {
    Assignment a = naming("Watched", 3);
    try (BrowserContext desk = chromium.visitor(1440, 900); BrowserContext bench = chromium.visitor(390, 844)) {
      Page isolde = comeIn(desk.newPage(), "Isolde");
      isolde.navigate(ferrule.at("/class/drills/" + a.id()));
      Locator row = isolde.locator("tr", new Page.LocatorOptions().setHasText("Wren Aldous"));
      assertThat(row).containsText("Not started");
      isolde.evaluate("window.sameLoad = true");
      Page wren = start(bench, a);
      wren.locator("#answer").fill("crook");
      button(wren, "Answer").click();
      assertThat(wren.locator("#verdict")).isVisible();
      assertThat(row).containsText("1 of 3", new LocatorAssertions.ContainsTextOptions().setTimeout(30_000));
      assertThat(row).containsText("Under way");
      assertEquals(true, isolde.evaluate("window.sameLoad"));
      assertThat(isolde.locator("[data-live]")).containsText("Live, as of");
    }
    try (BrowserContext plain = chromium.visitorWithoutScript(820, 1180)) {
      Page isolde = comeIn(plain.newPage(), "Isolde");
      isolde.navigate(ferrule.at("/class/drills/" + a.id()));
      assertThat(isolde.locator("main")).containsText("Load the page again for later");
      assertThat(isolde.locator("tr", new Page.LocatorOptions().setHasText("Wren Aldous"))).containsText("1 of 3");
    }
  }
}
