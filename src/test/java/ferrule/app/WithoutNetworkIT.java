package ferrule.app;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.assertions.LocatorAssertions;
import com.microsoft.playwright.options.AriaRole;
import com.microsoft.playwright.options.Cookie;
import ferrule.people.Opening;
import ferrule.bench.BenchStore;
import ferrule.bench.Draft;
import ferrule.bench.LoggedRecord;
import ferrule.bench.RecordStore;
import java.time.Clock;
import java.util.List;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;

/** Grading at the bench while the network is gone, in a real browser whose cable is really pulled. */
class WithoutNetworkIT extends ChromiumVisits {

  private static final String WATER_KEY = "Water key cork or pad replacement";
  private static final String MOUTHPIECE = "Stuck mouthpiece removal";

  private final List<Tablet> tablets = new java.util.ArrayList<>();

  /** A tablet on a cable of its own. */
  private record Tablet(Cable cable, BrowserContext context) {}

  private Tablet tablet() {
    Tablet tablet = new Tablet(new Cable(ferrule.port()), chromium.visitor(820, 1180));
    tablets.add(tablet);
    return tablet;
  }

  @AfterEach
  void putAway() {
    tablets.forEach(t -> {
      t.context().close();
      t.cable().close();
    });
  }

  private static Page isolde(Tablet tablet) {
    return comeIn(tablet, "Isolde");
  }

  private static Page comeIn(Tablet tablet, String who) {
    Page page = tablet.context().newPage();
    page.navigate(tablet.cable().at("/sign-in"));
    page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName("Come in as " + who)).click();
    return page;
  }

  private static Page tobias(Tablet tablet) {
    String token = ferrule.installation.people().sessions()
        .open(DemoProgramme.id("Tobias Renn"), Opening.by(Opening.How.PASSWORD, "a second tablet"));
    tablet.context().addCookies(List.of(new Cookie("ferrule_session", token).setUrl(tablet.cable().at("/"))));
    Page page = tablet.context().newPage();
    page.navigate(tablet.cable().at("/bench"));
    return page;
  }

  private static Locator button(Page page, String name) {
    return page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName(name)).first();
  }

  private static Locator choice(Page page, String name) {
    return page.locator("label.choice", new Page.LocatorOptions().setHasText(Pattern.compile("^\\s*" + name + "(\\s[\\s\\S]*)?$")));
  }

  private static Locator criterion(Page page, String id) {
    return page.locator("fieldset[data-criterion='" + id + "']");
  }

  /** Opens a draft where there is a network, and waits until its page is ready for the network to go. */
  private static void begin(Page page, Tablet tablet, String task, String apprentice, String tag) {
    page.navigate(tablet.cable().at("/bench"));
    choice(page, task).click();
    choice(page, apprentice).click();
    choice(page, tag).click();
    button(page, "Begin").click();
    button(page, "All of these are in place").click();
    ready(page);
  }

  private static void ready(Page page) {
    assertThat(page.locator("form[data-ready]")).isVisible();
    awaitWorker(page);
  }

  private static void takeAlong(Page page, Tablet tablet, String pin, List<String> tasks, List<String> apprentices) {
    page.navigate(tablet.cable().at("/bench/along"));
    tasks.forEach(t -> choice(page, t).click());
    apprentices.forEach(a -> choice(page, a).click());
    page.getByLabel("Your PIN").fill(pin);
    button(page, "Take along").click();
    assertThat(page.locator("[data-taken]")).containsText("This device is ready");
  }

  /** Begins, grades and comes to the page on which it is signed, all of it without a network. */
  private static void gradeMouthpiece(Page page, Tablet tablet, String apprentice, String tag, String depth) {
    page.navigate(tablet.cable().at("/bench"));
    assertThat(page.locator("h1")).containsText("without a network");
    choice(page, MOUTHPIECE).click();
    choice(page, apprentice).click();
    choice(page, tag).click();
    button(page, "Begin").click();
    button(page, "All of these are in place").click();
    button(page, "Rest as expected").click();
    criterion(page, "depth").getByLabel("At most").fill("30");
    criterion(page, "depth").getByLabel("Reading").fill(depth);
    assertThat(page.locator("#kept")).hasText("Kept on this device.");
    assertThat(page.locator("#summary")).containsText("All criteria are in");
    button(page, "Look it over and sign").click();
    assertThat(page.locator("h1")).containsText("You are about to sign this");
  }

  private static void sign(Page page, String pin) {
    page.locator("#pin").fill(pin);
    button(page, "Sign on this device as").click();
    assertThat(page.locator("main")).containsText("Waits to be delivered");
  }

  private static RecordStore records() {
    return new RecordStore(ferrule.installation.database(), Clock.systemUTC());
  }

  private static long size() {
    return ferrule.installation.ledger().head().size();
  }

  private static LoggedRecord last() {
    return records().latest(1).get(0);
  }

  private static final LocatorAssertions.ContainsTextOptions PATIENTLY =
      new LocatorAssertions.ContainsTextOptions().setTimeout(20_000);

  /** Everything that stands in the browser's database, as text. */
  private static String everythingKept(Page page) {
    return (String) page.evaluate("""
        () => new Promise((resolve, reject) => {
          const request = indexedDB.open("ferrule");
          request.onerror = () => reject(request.error);
          request.onsuccess = async () => {
            let text = "";
            for (const name of request.result.objectStoreNames) {
              const rows = await new Promise(go => {
                const all = request.result.transaction(name).objectStore(name).getAll();
                all.onsuccess = () => go(all.result);
              });
              for (const row of rows) {
                text += name + JSON.stringify(row) + (row.sealed ? await row.sealed.text() : "");
              }
            }
            request.result.close();
            resolve(text + JSON.stringify(localStorage) + JSON.stringify(sessionStorage));
          };
        })""");
  }

  @Test
  void anOpenGradingScreenGoesOnWithoutANetworkAndAfterItIsLoadedAgain() {
    Tablet tablet = tablet();
    Page page = isolde(tablet);
    begin(page, tablet, WATER_KEY, "Hale Petrov", "T-12");
    String address = page.url();
    tablet.cable().cut();
    criterion(page, "cup-clean").locator("input[value='2']").check();
    assertThat(page.locator("[id='verdict.cup-clean']")).hasText("Does not pass");
    criterion(page, "opening").getByLabel("At least").fill("2");
    criterion(page, "opening").getByLabel("At most").fill("4");
    criterion(page, "opening").getByLabel("Reading").fill("1/8 in");
    assertThat(page.locator("[id='verdict.opening']")).containsText("within the limits");
    assertThat(page.locator("#kept")).containsText("Kept on this device");
    page.reload();
    assertThat(page.locator(".offline")).containsText("No network");
    assertTrue(criterion(page, "cup-clean").locator("input[value='2']").isChecked());
    assertEquals("1/8 in", criterion(page, "opening").getByLabel("Reading").inputValue());
    criterion(page, "seat").locator("input[value='3']").check();
    assertThat(page.locator("[id='verdict.seat']")).hasText("Passes");
    assertEquals(List.of(), Chromium.seriousFindings(page));
    page.close();
    Page again = tablet.context().newPage();
    again.navigate(address);
    assertTrue(criterion(again, "seat").locator("input[value='3']").isChecked(), "after the tab was closed too");
    tablet.cable().mend();
    again.reload();
    ready(again);
    assertTrue(criterion(again, "seat").locator("input[value='3']").isChecked(), "and the server has it");
    Draft draft = new BenchStore(ferrule.installation.database(), Clock.systemUTC())
        .draft(java.util.UUID.fromString(address.replaceAll(".*/", ""))).orElseThrow();
    assertEquals(2, draft.entries().levels().get("cup-clean"));
    assertEquals("1/8 in", draft.entries().readings().get("opening"));
  }

  @Test
  void whatIsSignedWithoutANetworkEntersOnceInOrderWithBothTimes() {
    Tablet tablet = tablet();
    Page page = isolde(tablet);
    takeAlong(page, tablet, "2468", List.of(MOUTHPIECE), List.of("Kit Vance", "Lio Haverford"));
    tablet.cable().cut();
    long before = size();
    gradeMouthpiece(page, tablet, "Kit Vance", "T-13", "25.4");
    page.reload();
    assertThat(page.locator("main")).containsText("Kit Vance");
    assertEquals(List.of(), Chromium.seriousFindings(page));
    sign(page, "2468");
    gradeMouthpiece(page, tablet, "Lio Haverford", "T-13", "26");
    sign(page, "2468");
    assertThat(page.locator("main ol.lines li")).hasCount(2);
    assertEquals(List.of(), Chromium.seriousFindings(page));
    assertFalse(everythingKept(page).contains("2468"), "no PIN is kept");
    page.close();
    assertEquals(before, size());
    tablet.cable().mend();
    Page again = tablet.context().newPage();
    again.navigate(tablet.cable().at("/bench"));
    assertThat(again.locator("[data-waiting]")).containsText("Lio Haverford", PATIENTLY);
    assertEquals(before + 2, size());
    List<LoggedRecord> two = records().latest(2);
    assertEquals("Lio Haverford", two.get(0).record().apprenticeName(), "in the order in which they were signed");
    assertEquals("Kit Vance", two.get(1).record().apprenticeName());
    var onDevice = two.get(1).record().signature().onDevice().orElseThrow();
    assertTrue(onDevice.signedAt().isBefore(onDevice.receivedAt()));
    assertTrue(onDevice.provenAt().isBefore(onDevice.signedAt()));
    again.navigate(tablet.cable().at("/bench/records/" + two.get(1).id()));
    assertThat(again.locator("main")).containsText("on a device without a network");
    assertThat(again.locator("main")).containsText("by the device's clock");
    assertThat(again.locator("main")).containsText("Received at");
    again.reload();
    assertEquals(before + 2, size());
  }

  @Test
  void aLostReplyAndASecondTabEnterNothingTwice() {
    Tablet tablet = tablet();
    Page page = isolde(tablet);
    takeAlong(page, tablet, "2468", List.of(MOUTHPIECE), List.of("Mirren Osei"));
    tablet.cable().cut();
    gradeMouthpiece(page, tablet, "Mirren Osei", "T-13", "25");
    sign(page, "2468");
    long before = size();
    tablet.cable().mend();
    page.navigate(tablet.cable().at("/bench/instruments"));
    // whichever of the two tabs is first; the other brings the same
    Page second = tablet.context().newPage();
    second.navigate(tablet.cable().at("/bench/instruments"));
    assertThat(second.locator("[data-waiting]")).containsText("Mirren Osei", PATIENTLY);
    assertEquals(before + 1, size());

    tablet.cable().cut();
    gradeMouthpiece(page, tablet, "Mirren Osei", "T-14", "24");
    sign(page, "2468");
    tablet.cable().mend();
    tablet.cable().loseReplies("POST /device/envelopes", 100);
    page.navigate(tablet.cable().at("/bench/instruments"));
    assertThat(page.locator("[data-waiting]")).containsText("wait", PATIENTLY);
    waitUntil(() -> size() == before + 2);
    tablet.cable().loseReplies("", 0);
    page.navigate(tablet.cable().at("/bench/instruments"));
    assertThat(page.locator("[data-waiting]")).containsText("Entered: Mirren Osei, Stuck mouthpiece removal, instrument T-14", PATIENTLY);
    assertEquals(before + 2, size());
  }

  @Test
  void whatAnotherInstructorSignedMeanwhileIsToldAndNothingIsLost() {
    Tablet first = tablet();
    Tablet second = tablet();
    Page isolde = isolde(first);
    takeAlong(isolde, first, "2468", List.of(MOUTHPIECE), List.of("Nell Quayle"));
    Page tobias = tobias(second);
    takeAlong(tobias, second, "1357", List.of(MOUTHPIECE), List.of("Nell Quayle"));
    first.cable().cut();
    second.cable().cut();
    gradeMouthpiece(isolde, first, "Nell Quayle", "T-15", "25");
    sign(isolde, "2468");
    gradeMouthpiece(tobias, second, "Nell Quayle", "T-15", "26");
    sign(tobias, "1357");
    long before = size();
    second.cable().mend();
    tobias.navigate(second.cable().at("/bench"));
    assertThat(tobias.locator("[data-waiting]")).containsText("Entered", PATIENTLY);
    first.cable().mend();
    isolde.navigate(first.cable().at("/bench"));
    assertThat(isolde.locator("[data-waiting]"))
        .containsText("Tobias Renn signed this task for the same apprentice and instrument meanwhile", PATIENTLY);
    assertEquals(before + 1, size());
    isolde.navigate(first.cable().at("/bench"));
    Locator line = isolde.locator("li", new Page.LocatorOptions().setHasText("not entered"));
    assertThat(line).containsText("Nell Quayle");
    line.getByText("Go on").click();
    assertEquals("25", criterion(isolde, "depth").getByLabel("Reading").inputValue());
    button(isolde, "Look it over and sign").click();
    isolde.getByLabel("Your PIN").fill("2468");
    button(isolde, "Sign as Isolde Farrow").click();
    button(isolde, "The same work: keep mine as a second grade").click();
    assertThat(isolde.locator("main")).containsText("Graded blind by others");
    assertEquals(before + 1, size());
  }

  @Test
  void aWrongPinEntersNothingAndTheGradeIsKept() {
    Tablet tablet = tablet();
    Page page = isolde(tablet);
    takeAlong(page, tablet, "2468", List.of(MOUTHPIECE), List.of("Bram Okoro"));
    tablet.cable().cut();
    gradeMouthpiece(page, tablet, "Bram Okoro", "T-16", "25");
    sign(page, "2469");
    long before = size();
    tablet.cable().mend();
    page.navigate(tablet.cable().at("/bench"));
    assertThat(page.locator("[data-waiting]")).containsText("The PIN that was typed on the device was not yours", PATIENTLY);
    assertEquals(before, size());
    page.locator("[data-waiting] a").first().click();
    assertEquals("25", criterion(page, "depth").getByLabel("Reading").inputValue());
  }

  @Test
  void afterSigningOutNothingCanBeReadAndTheNextPersonDeliversWhatWaits() {
    Tablet tablet = tablet();
    Page page = isolde(tablet);
    takeAlong(page, tablet, "2468", List.of(MOUTHPIECE, WATER_KEY), List.of("Greta Soames", "Bram Okoro"));
    assertTrue(everythingKept(page).contains("Bram Okoro"));
    tablet.cable().cut();
    gradeMouthpiece(page, tablet, "Greta Soames", "T-17", "25");
    sign(page, "2468");
    gradeMouthpiece(page, tablet, "Bram Okoro", "T-17", "21.5");
    long before = size();
    button(page, "Sign out").click();
    assertThat(page.locator("main")).containsText("You are signed out on this device");
    String left = everythingKept(page);
    for (String name : List.of("Greta", "Bram", "Isolde", "21.5", "2468", "signKey")) {
      assertFalse(left.contains(name), name + " can still be read");
    }
    page.navigate(tablet.cable().at("/bench"));
    assertThat(page.locator("main")).containsText("You are signed out on this device");
    tablet.cable().mend();
    page.navigate(tablet.cable().at("/bench"));
    page.waitForURL(Pattern.compile(".*/sign-in.*"));
    Page wren = comeIn(tablet, "Wren");
    wren.navigate(tablet.cable().at("/practise"));
    waitUntil(() -> size() == before + 1);
    assertEquals("Greta Soames", last().record().apprenticeName());
    assertFalse(wren.locator("[data-waiting]").innerText().contains("Greta"), "whose it was is nothing to the next");
    wren.navigate(tablet.cable().at("/bench"));
    Tablet other = tablet();
    Page again = isolde(other);
    again.navigate(other.cable().at("/bench"));
    Locator line = again.locator("li", new Page.LocatorOptions().setHasText(Pattern.compile("Bram Okoro.*T-17")));
    line.getByText("Go on").first().click();
    assertEquals("21.5", criterion(again, "depth").getByLabel("Reading").inputValue(), "what was entered is not lost");
  }

  private static void waitUntil(java.util.function.BooleanSupplier condition) {
    long end = System.nanoTime() + 20_000_000_000L;
    while (!condition.getAsBoolean() && System.nanoTime() < end) {
      try {
        Thread.sleep(100);
      } catch (InterruptedException e) {
        throw new IllegalStateException(e);
      }
    }
    assertTrue(condition.getAsBoolean());
  }
}
