package ferrule.app;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.google.gson.JsonObject;
import com.google.gson.JsonParser;
import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.CDPSession;
import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.AriaRole;
import ferrule.bench.LoggedRecord;
import ferrule.bench.RecordStore;
import ferrule.people.OneTimeCode;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.people.SignInPace;
import java.time.Clock;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;

/** Signing in, every way, on a screen as wide as a phone's, in a real browser. */
class AccountsIT extends ChromiumVisits {

  private static final String PASSWORD = "grey heron stands";

  private static BrowserContext phone() {
    return chromium.visitor(390, 844);
  }

  /** The page's address by a name, because passkeys are for names and not for numbers. */
  private static String byName(String path) {
    return ferrule.at(path).replace("127.0.0.1", "localhost");
  }

  private static CDPSession authenticator(Page page, boolean verifies) {
    CDPSession session = page.context().newCDPSession(page);
    session.send("WebAuthn.enable");
    JsonObject parameters =
        JsonParser.parseString(
                "{\"options\":{\"protocol\":\"ctap2\",\"transport\":\"internal\",\"hasResidentKey\":true,"
                    + "\"hasUserVerification\":true,\"isUserVerified\":" + verifies
                    + ",\"automaticPresenceSimulation\":true}}")
            .getAsJsonObject();
    session.send("WebAuthn.addVirtualAuthenticator", parameters);
    return session;
  }

  private static void signIn(Page page, String name, String password) {
    page.getByLabel("Name", new Page.GetByLabelOptions().setExact(true)).fill(name);
    page.getByLabel("Password").fill(password);
    page.waitForNavigation(() -> Chromium.press(page.getByLabel("Password"), "Enter"));
  }

  /** Adds a person who signs in with {@link #PASSWORD}. */
  private static String add(String name, Role role, Optional<String> pin) {
    ferrule.installation.people().add(
        new Person(UUID.randomUUID(), name, "Invented " + name, role, Optional.empty()), Optional.of(PASSWORD), pin);
    return name;
  }

  private static void isSound(Page page) {
    assertEquals(List.of(), Chromium.seriousFindings(page));
    Number excess = (Number) page.evaluate("document.documentElement.scrollWidth - window.innerWidth");
    assertTrue(excess.intValue() <= 0, page.url() + " is " + excess + " px wider than a phone");
  }

  private static void makePasskey(Page page, String title, String password) {
    page.navigate(byName("/account/passkeys"));
    page.getByLabel("Its name").fill(title);
    page.locator("#password").fill(password);
    Chromium.press(page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName("Make the passkey")), "Enter");
    assertThat(page.getByText("The passkey “" + title + "” is made")).isVisible();
  }

  @Test
  void aPasskeyIsMadeLetsInAndStandsInForThePinWhenWorkIsSigned() {
    try (BrowserContext visitor = phone()) {
      Page page = visitor.newPage();
      page.navigate(byName("/sign-in"));
      signIn(page, "isolde", "brass lantern");
      authenticator(page, true);
      makePasskey(page, "My phone", "brass lantern");
      isSound(page);
      page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName("Sign out").setExact(true)).click();

      Chromium.press(
          page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName("Sign in with a passkey")), "Enter");
      page.waitForURL(url -> !url.contains("/sign-in"));
      page.navigate(byName("/account"));
      assertThat(page.getByText("by passkey")).isVisible();

      page.navigate(record() + "/withdraw");
      page.getByLabel("Why").fill("Entered for the wrong apprentice.");
      Chromium.press(page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName("Sign with a passkey")), "Enter");
      page.waitForURL(Pattern.compile(".*/bench/records/[0-9a-f-]+$"));
      assertThat(page.getByText(Pattern.compile("withdrawn", Pattern.CASE_INSENSITIVE)).first()).isVisible();
    }
  }

  /** The latest grade that Isolde signed. */
  private static String record() {
    return new RecordStore(ferrule.installation.database(), Clock.systemUTC()).latest(200).stream()
        .map(LoggedRecord::record)
        .filter(r -> r.signature().by().equals(DemoProgramme.id("Isolde Farrow")) && r.grade().isPresent())
        .map(r -> byName("/bench/records/" + r.id()))
        .findFirst().orElseThrow();
  }

  @Test
  void aDeviceThatDoesNotMakeSureWhoHoldsItIsNotTaken() {
    try (BrowserContext visitor = phone()) {
      Page page = visitor.newPage();
      page.navigate(byName("/sign-in"));
      signIn(page, "magnus", "river ledger");
      authenticator(page, false);
      page.navigate(byName("/account/passkeys"));
      page.locator("#password").fill("river ledger");
      page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName("Make the passkey")).click();
      assertThat(page.locator("[data-passkey-state]").first()).containsText("No passkey was used");
      assertThat(page.getByText("None yet.")).isVisible();
    }
  }

  @Test
  void aWrongPasswordMakesNoPasskey() {
    try (BrowserContext visitor = phone()) {
      Page page = visitor.newPage();
      page.navigate(byName("/sign-in"));
      signIn(page, "magnus", "river ledger");
      authenticator(page, true);
      page.navigate(byName("/account/passkeys"));
      page.locator("#password").fill("river ledgers");
      page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName("Make the passkey")).click();
      assertThat(page.locator("[data-passkey-state]").first()).containsText("Your present password is not right.");
    }
  }

  @Test
  void oneTimeCodesAreSwitchedOnAskedForAndReplacedOnceByARecoveryCode() {
    try (BrowserContext visitor = phone()) {
      Page page = visitor.newPage();
      add("Fenwick", Role.APPRENTICE, Optional.empty());
      page.navigate(ferrule.at("/sign-in"));
      signIn(page, "fenwick", PASSWORD);
      page.navigate(ferrule.at("/account/codes"));
      page.getByLabel("Your password").fill(PASSWORD);
      Chromium.press(page.getByLabel("Your password"), "Enter");
      Matcher secret = Pattern.compile("[A-Z2-7]{4}(?: [A-Z2-7]{4}){7}").matcher(page.content());
      assertTrue(secret.find());
      isSound(page);
      OneTimeCode authenticator = OneTimeCode.parse(secret.group().replace(" ", ""));
      page.getByLabel("Type the six digits").fill(authenticator.at(Instant.now()));
      Chromium.press(page.getByLabel("Type the six digits"), "Enter");
      assertThat(page.locator(".codes li")).hasCount(10);
      isSound(page);
      String paper = page.locator(".codes li").nth(2).textContent();

      page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName("Sign out")).click();
      signIn(page, "fenwick", PASSWORD);
      page.waitForURL(Pattern.compile(".*/sign-in/code.*"));
      isSound(page);
      page.navigate(ferrule.at("/account"));
      page.waitForURL(Pattern.compile(".*/sign-in\\?.*"));
      page.navigate(ferrule.at("/sign-in/code"));
      page.getByLabel("Code").fill("000000");
      Chromium.press(page.getByLabel("Code"), "Enter");
      assertThat(page.getByRole(AriaRole.ALERT)).containsText("That code is not right");
      page.getByLabel("Code").fill(paper);
      Chromium.press(page.getByLabel("Code"), "Enter");
      page.navigate(ferrule.at("/account"));
      assertThat(page.getByText("9 recovery codes left")).isVisible();
      isSound(page);
    }
  }

  @Test
  void afterManyWrongPasswordsTheBrowserWorksSomethingOutAndTheRightOneLetsIn() {
    try (BrowserContext visitor = phone()) {
      Page page = visitor.newPage();
      add("Grete", Role.APPRENTICE, Optional.empty());
      page.navigate(ferrule.at("/sign-in"));
      for (int i = 0; i <= SignInPace.FREE; i++) {
        signIn(page, "grete", "not her password " + i);
      }
      assertThat(page.getByRole(AriaRole.ALERT)).containsText("works something out");
      isSound(page);
      signIn(page, "grete", PASSWORD);
      assertThat(page.getByText("Invented Grete, apprentice").first()).isAttached(
          new com.microsoft.playwright.assertions.LocatorAssertions.IsAttachedOptions().setTimeout(30_000));
    }
  }

  @Test
  void onASharedTabletPeopleChangePlacesByPinAndItLocksItself() {
    try (BrowserContext visitor = phone()) {
      Page page = visitor.newPage();
      add("Tove", Role.APPRENTICE, Optional.of("8642"));
      page.clock().install();
      page.navigate(ferrule.at("/sign-in"));
      signIn(page, "isolde", "brass lantern");
      page.navigate(ferrule.at("/account/tablets"));
      isSound(page);
      page.getByLabel("Make this device a shared tablet").fill("Bench 2");
      Chromium.press(page.getByLabel("Make this device a shared tablet"), "Enter");
      assertThat(page.getByText("This device is now the shared tablet")).isVisible();
      signIn(page, "isolde", "brass lantern");
      page.navigate(ferrule.at("/bench"));
      page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName("Lock")).click();
      page.waitForURL(Pattern.compile(".*/tablet$"));
      isSound(page);

      page.getByRole(AriaRole.LINK, new Page.GetByRoleOptions().setName("Sign in with name and password")).click();
      signIn(page, "tove", PASSWORD);
      page.clock().runFor(200_000);
      page.waitForURL(Pattern.compile(".*/tablet$"));
      assertThat(page.getByRole(AriaRole.LINK, new Page.GetByRoleOptions().setName("Invented Tove"))).isVisible();

      page.getByRole(AriaRole.LINK, new Page.GetByRoleOptions().setName("Isolde Farrow")).click();
      Locator pin = page.getByLabel("Your PIN");
      pin.fill("1111");
      Chromium.press(pin, "Enter");
      assertThat(page.getByRole(AriaRole.ALERT)).containsText("4 more tries");
      isSound(page);
      pin.fill("2468");
      Chromium.press(pin, "Enter");
      page.waitForURL(ferrule.at("/bench"));
    }
  }

  @Test
  void aPersonSeesWhereTheyAreSignedInAndEndsIt() {
    try (BrowserContext one = phone(); BrowserContext two = phone()) {
      Page here = one.newPage();
      Page there = two.newPage();
      add("Halla", Role.APPRENTICE, Optional.empty());
      for (Page page : List.of(here, there)) {
        page.navigate(ferrule.at("/sign-in"));
        signIn(page, "halla", PASSWORD);
      }
      here.navigate(ferrule.at("/account"));
      assertThat(here.locator(".sessions li")).hasCount(2);
      Chromium.press(
          here.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName("Sign out everywhere else")), "Enter");
      assertThat(here.locator(".sessions li")).hasCount(1);
      there.navigate(ferrule.at("/account"));
      there.waitForURL(Pattern.compile(".*/sign-in.*"));

      here.navigate(ferrule.at("/account/password"));
      here.getByLabel("Your present password").fill(PASSWORD);
      here.getByLabel("New password").fill("qwertyqwerty12");
      Chromium.press(here.getByLabel("New password"), "Enter");
      assertThat(here.getByRole(AriaRole.ALERT)).containsText("tried first");
      isSound(here);
      here.getByLabel("Your present password").fill(PASSWORD);
      here.getByLabel("New password").fill("a heron on one leg");
      Chromium.press(here.getByLabel("New password"), "Enter");
      assertThat(here.getByText("Your password is changed")).isVisible();
    }
  }
}
