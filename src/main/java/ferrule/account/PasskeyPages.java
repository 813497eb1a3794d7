package ferrule.account;

import ferrule.people.PasskeyStore;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Presence;
import ferrule.web.Access;
import ferrule.web.Door;
import ferrule.web.Page;
import ferrule.web.Pages;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.nio.ByteBuffer;
import java.time.Instant;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.Base64;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

/** One's passkeys: making and removing them, and showing with one that one is there when something is signed. */
public final class PasskeyPages implements Pages {

  private static final int LONGEST_TITLE = 80;

  private final PeopleStore people;
  private final DateTimeFormatter day;

  /** The pages over this store, with days as the calendar at the school shows them. */
  public PasskeyPages(PeopleStore people, ZoneId zone) {
    this.people = people;
    this.day = DateTimeFormatter.ofPattern("d MMM yyyy", Locale.ENGLISH).withZone(zone);
  }

  /** A passkey as a line of the page. */
  record Line(String id, String title, String made, String used) {}

  @Override
  public void routes(RoutesConfig routes) {
    routes.get("/account/passkeys", ctx -> show(ctx, ""), Access.SIGNED_IN);
    routes.post("/account/passkeys/begin", this::begin, Access.SIGNED_IN);
    routes.post("/account/passkeys", this::make, Access.SIGNED_IN);
    routes.post("/account/passkeys/remove", this::remove, Access.SIGNED_IN);
    routes.post("/account/passkeys/presence", this::beginPresence, Access.SIGNED_IN);
  }

  private void show(Context ctx, String problem) {
    List<Line> lines =
        people.passkeys().of(Visit.person(ctx).id()).stream()
            .map(p -> new Line(p.id(), p.title(), said(p.madeAt()), p.usedAt().map(this::said).orElse("")))
            .toList();
    Page.show(ctx, "account/passkeys", Map.of("problem", problem, "passkeys", lines));
  }

  private String said(Instant instant) {
    return day.format(instant);
  }

  private void begin(Context ctx) {
    Optional<String> wrong = new Proof(people).refusal(ctx.formParam("password"), Visit.signedIn(ctx).orElseThrow());
    if (wrong.isPresent()) {
      ctx.status(401).json(Map.of("problem", wrong.get()));
      return;
    }
    Person person = Visit.person(ctx);
    List<String> known = people.passkeys().of(person.id()).stream().map(PasskeyStore.Listed::id).toList();
    ctx.json(
        Map.of(
            "challenge", people.passkeys().challengeToMake(person.id()),
            "rpId", Door.place(ctx).host(),
            "user", Map.of("id", handle(person.id()), "name", person.signInName(), "displayName", person.fullName()),
            "known", known));
  }

  private static String handle(UUID id) {
    byte[] bytes =
        ByteBuffer.allocate(16).putLong(id.getMostSignificantBits()).putLong(id.getLeastSignificantBits()).array();
    return Base64.getUrlEncoder().withoutPadding().encodeToString(bytes);
  }

  private void make(Context ctx) {
    String title = Visit.formText(ctx, "title").filter(t -> t.length() <= LONGEST_TITLE).orElse("Passkey");
    String answer = Optional.ofNullable(ctx.formParam("passkey")).orElse("");
    if (!people.passkeys().make(Visit.person(ctx).id(), answer, title, Door.place(ctx))) {
      ctx.status(400);
      show(ctx, "The passkey was not taken: the device's answer does not fit, or it took too long. Try again.");
      return;
    }
    Page.goTo(ctx, "/account/passkeys", "The passkey “" + title + "” is made. You can sign in with it from now on.");
  }

  private void remove(Context ctx) {
    Optional<String> wrong = new Proof(people).refusal(ctx.formParam("password"), Visit.signedIn(ctx).orElseThrow());
    if (wrong.isPresent()) {
      ctx.status(401);
      show(ctx, wrong.get() + " Nothing was changed.");
      return;
    }
    people.passkeys().remove(Visit.person(ctx).id(), Visit.formText(ctx, "id").orElse(""));
    Page.goTo(ctx, "/account/passkeys", "The passkey is removed. Delete it on the device too.");
  }

  private void beginPresence(Context ctx) {
    UUID id = Visit.person(ctx).id();
    List<String> known = people.passkeys().of(id).stream().map(PasskeyStore.Listed::id).toList();
    ctx.json(
        Map.of(
            "challenge", people.passkeys().challengeOfPresence(id), "rpId", Door.place(ctx).host(), "known", known));
  }

  /** Whether a form that signs something was sent by its signer: by their passkey if it carries one, else by PIN. */
  public static Presence presence(Context ctx, PeopleStore people) {
    UUID id = Visit.person(ctx).id();
    return Visit.formText(ctx, "passkey")
        .map(answer -> people.passkeys().provePresence(id, answer, Door.place(ctx)))
        .orElseGet(() -> people.provePresence(id, Visit.formText(ctx, "pin").orElse("")));
  }
}
