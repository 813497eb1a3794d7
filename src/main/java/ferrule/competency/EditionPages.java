package ferrule.competency;

import ferrule.people.Cohort;
import ferrule.people.Person;
import ferrule.web.Access;
import ferrule.web.NavEntry;
import ferrule.web.Page;
import ferrule.web.Pages;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.time.Instant;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.stream.Collectors;

/** The programme in its editions: which cohort is on which, what another would change, and moving cohorts to it. */
public final class EditionPages implements Pages {

  private static final int LONGEST_REASON = 1_000;

  private final Desk desk;
  private final EditionStore editions;

  /** The pages. */
  public EditionPages(Desk desk, EditionStore editions) {
    this.desk = desk;
    this.editions = editions;
  }

  @Override
  public List<NavEntry> nav() {
    return List.of(NavEntry.of("Programme", "/programme", 30, Access.COORDINATOR));
  }

  @Override
  public void routes(RoutesConfig routes) {
    routes.get("/programme", this::list, Access.COORDINATOR);
    routes.get("/programme/change", this::preview, Access.COORDINATOR);
    routes.post("/programme/moves", this::move, Access.COORDINATOR);
    routes.get("/programme/editions/{edition}", this::show, Access.COORDINATOR, Access.INSTRUCTOR);
  }

  /** An edition and who is on it. */
  record EditionView(String edition, String since, boolean current, int competencies, List<String> cohorts) {}

  /** A cohort and its edition. */
  record CohortView(UUID id, String title, String edition, int apprentices) {}

  /** A move that was made. */
  record MoveView(String on, String cohort, String edition, String by, String reason) {}

  private void list(Context ctx) {
    Instant now = desk.clock().instant();
    Map<UUID, String> pinned = editions.editions(now);
    List<Cohort> cohorts = desk.people().cohorts();
    Map<UUID, String> titles = cohorts.stream().collect(Collectors.toMap(Cohort::id, Cohort::title));
    String current = desk.competencies().programme().edition();
    Map<String, Object> model = new HashMap<>();
    model.put("current", current);
    model.put("editions", editions.all().stream()
        .map(e -> new EditionView(
            e.edition(), day(e.keptAt()), e.edition().equals(current),
            desk.competencies().find(e.edition()).orElseThrow().competencies().size(),
            cohorts.stream().filter(c -> e.edition().equals(pinned.get(c.id()))).map(Cohort::title).toList()))
        .toList());
    model.put("cohorts", cohorts.stream()
        .map(c -> new CohortView(c.id(), c.title(), pinned.get(c.id()), desk.apprentices(c, false).size())).toList());
    model.put("moves", editions.moves().stream()
        .map(m -> new MoveView(day(m.movedAt()), titles.get(m.cohort()), m.edition(), m.movedByName(), m.reason()))
        .toList());
    Page.show(ctx, "competency/programme", model);
  }

  private String day(Instant at) {
    return AsOf.inWords(LocalDate.ofInstant(at, desk.zone()));
  }

  private void show(Context ctx) {
    Page.show(ctx, "competency/edition", Map.of("programme", edition(ctx.pathParam("edition"))));
  }

  private Programme edition(String edition) {
    return desk.competencies().find(edition)
        .orElseThrow(() -> Refusal.notFound("No edition " + edition + " of the programme is kept here."));
  }

  private List<Cohort> cohorts(List<String> ids) {
    List<Cohort> chosen =
        desk.people().cohorts().stream().filter(c -> ids.contains(c.id().toString())).toList();
    if (chosen.isEmpty()) {
      throw Refusal.invalid("Choose at least one cohort.");
    }
    return chosen;
  }

  /** What a cohort would see of the change. */
  record CohortChange(String title, EditionChange change, boolean same, List<EditionChange.Effect> touched) {}

  private void preview(Context ctx) {
    Programme to = edition(Visit.queryText(ctx, "edition").orElse(""));
    Instant now = desk.clock().instant();
    List<Cohort> chosen = cohorts(ctx.queryParams("cohort"));
    List<CohortChange> changes = chosen.stream()
        .map(c -> {
          EditionChange change = desk.competencies().change(c.id(), desk.apprentices(c, false), to, now);
          return new CohortChange(
              c.title(), change, change.from().edition().equals(to.edition()),
              change.effects().stream().filter(e -> !e.isNone()).toList());
        })
        .toList();
    Map<String, Object> model = new HashMap<>();
    model.put("to", to);
    model.put("chosen", chosen.stream().filter(c -> !to.edition().equals(editions.editions(now).get(c.id()))).toList());
    model.put("changes", changes);
    Page.show(ctx, "competency/change", model);
  }

  private void move(Context ctx) {
    Person by = Visit.person(ctx);
    Programme to = edition(Visit.formText(ctx, "edition").orElse(""));
    List<Cohort> chosen = cohorts(ctx.formParams("cohort"));
    String reason = Visit.formText(ctx, "reason").filter(r -> r.length() <= LONGEST_REASON)
        .orElseThrow(() -> Refusal.invalid("Give the reason, in at most " + LONGEST_REASON + " letters."));
    Instant now = desk.clock().instant().truncatedTo(ChronoUnit.MILLIS);
    boolean moved = editions.move(chosen.stream()
        .map(c -> new Move(UUID.randomUUID(), c.id(), to.edition(), reason, by.id(), by.fullName(), now)).toList());
    if (!moved) {
      throw Refusal.conflict("One of these cohorts is on this edition already. Nothing was moved.");
    }
    Page.goTo(
        ctx, "/programme",
        chosen.stream().map(Cohort::title).collect(Collectors.joining(" and ")) + " moved to edition " + to.edition()
            + "; it is in the log.");
  }
}
