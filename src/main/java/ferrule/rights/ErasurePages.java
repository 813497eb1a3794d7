package ferrule.rights;

import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.web.Access;
import ferrule.web.Page;
import ferrule.web.Pages;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.time.Clock;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** Where a coordinator sees what erasing an apprentice would do, and does it. */
public final class ErasurePages implements Pages {

  private final ErasureStore erasures;
  private final PeopleStore people;
  private final Runnable signHead;
  private final Clock clock;
  private final ZoneId zone;

  /**
   * The pages.
   *
   * @param signHead signs the head of the log after an erasure, so that it covers the statement at once
   * @param zone the school's, by whose calendar somebody leaves
   */
  public ErasurePages(ErasureStore erasures, PeopleStore people, Runnable signHead, Clock clock, ZoneId zone) {
    this.erasures = erasures;
    this.people = people;
    this.signHead = signHead;
    this.clock = clock;
    this.zone = zone;
  }

  @Override
  public void routes(RoutesConfig routes) {
    routes.get("/people/{id}/erase", ctx -> show(ctx, erasable(ctx), List.of()), Access.COORDINATOR);
    routes.post("/people/{id}/erase", this::erase, Access.COORDINATOR);
  }

  private Person erasable(Context ctx) {
    Person who = people.person(Visit.id(ctx, "id")).orElseThrow(() -> Refusal.notFound("There is no such person."));
    erasures.refusal(who).ifPresent(why -> {
      throw Refusal.conflict(why);
    });
    return who;
  }

  private void show(Context ctx, Person who, List<String> problems) {
    List<ErasureStore.Line> lines = erasures.preview(who.id());
    Map<String, Object> model = new HashMap<>();
    model.put("who", who);
    model.put("problems", problems);
    for (String fate : List.of("goes", "redacted", "stays")) {
      model.put(fate, lines.stream().filter(line -> line.fate().equals(fate)).toList());
    }
    model.put("reason", Visit.formText(ctx, "reason").orElse(""));
    model.put("longest", ErasureStore.LONGEST_REASON);
    Page.show(ctx, "rights/erase", model);
  }

  private void erase(Context ctx) {
    Person who = erasable(ctx);
    String reason = Visit.formText(ctx, "reason").orElse("");
    List<String> problems = new ArrayList<>();
    if (reason.isEmpty() || reason.length() > ErasureStore.LONGEST_REASON) {
      problems.add("Give the reason, in at most " + ErasureStore.LONGEST_REASON + " characters.");
    }
    if (!Visit.formText(ctx, "name").orElse("").equals(who.fullName())) {
      problems.add("Type the full name as it stands above.");
    }
    if (who.isPresent() && Visit.formText(ctx, "leaves").isEmpty()) {
      problems.add(who.fullName() + " has not left yet. Confirm that they leave today.");
    }
    if (!problems.isEmpty()) {
      ctx.status(422);
      show(ctx, who, problems);
      return;
    }
    try {
      ErasureStore.Erased erased =
          erasures.erase(who, Visit.person(ctx), reason, LocalDate.ofInstant(clock.instant(), zone));
      signHead.run();
      Page.goTo(ctx, "/people/" + who.id() + "/account", "Done: they are “" + erased.pseudonym() + "” from now on. Erasure no. "
          + erased.number() + " of the book vouches for " + erased.redacted() + " redacted records.");
    } catch (IllegalStateException e) {
      throw Refusal.conflict(e.getMessage());
    }
  }
}
