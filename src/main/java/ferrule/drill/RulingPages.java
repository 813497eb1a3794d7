package ferrule.drill;

import ferrule.naming.Ruling;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.web.Access;
import ferrule.web.Page;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Collectors;

/** The instructor's rulings: what awaits one, making one, those made, and the patch that they make. */
final class RulingPages {

  private static final int NAMED = 3;

  private final PeopleStore people;
  private final RulingStore store;
  private final RulingBook rulings;
  private final Pictures pictures;
  private final PartNames names;
  private final Calendar calendar;

  RulingPages(
      PeopleStore people,
      RulingStore store,
      RulingBook rulings,
      Pictures pictures,
      PartNames names,
      Calendar calendar) {
    this.people = people;
    this.store = store;
    this.rulings = rulings;
    this.pictures = pictures;
    this.names = names;
    this.calendar = calendar;
  }

  void routes(RoutesConfig routes) {
    routes.get("/class/rulings", this::list, Access.INSTRUCTOR);
    routes.post("/class/rulings", this::rule, Access.INSTRUCTOR);
    routes.get("/class/rulings/new", this::showForm, Access.INSTRUCTOR);
    routes.get("/class/rulings/glossary.patch", this::patch, Access.INSTRUCTOR);
    routes.post("/class/rulings/{id}/undo", this::undo, Access.INSTRUCTOR);
  }

  /** A phrase that awaits a ruling, in words. */
  record OpenRow(
      String partId,
      String part,
      String phrase,
      String typed,
      String also,
      int times,
      String people,
      int disputed,
      String latest) {}

  /** A ruling, in words. */
  record MadeRow(
      UUID id,
      String typed,
      String part,
      String decision,
      String reason,
      String by,
      String when,
      int regraded,
      String undone) {}

  /** A decision to choose. */
  record Choice(String word, String label, String meaning) {}

  private static final List<Choice> CHOICES =
      List.of(
          new Choice(
              RulingWord.TERM.word(),
              "Accept as a trade term",
              "It is good shop usage, from now on and for every past answer."),
          new Choice(
              RulingWord.COLLOQUIAL.word(),
              "Accept as an everyday name",
              "It counts where a drill takes everyday names."),
          new Choice(RulingWord.MISSPELLING.word(), "It is a misspelling", "It counts as the name that was meant."),
          new Choice(
              RulingWord.ONCE.word(),
              "Accept it this once",
              "The answers so far count; the next one comes to you again."),
          new Choice(RulingWord.NOT_ACCEPTED.word(), "Do not accept it", "Say why below."));

  private void list(Context ctx) {
    Map<UUID, Integer> regraded = store.regraded();
    List<RuledAnswer> made = store.rulings();
    Map<String, Object> model = new HashMap<>();
    model.put("open", rulings.open().stream().map(this::row).toList());
    model.put("rulings", made.stream().map(r -> row(r, regraded.getOrDefault(r.id(), 0))).toList());
    model.put(
        "taught",
        made.stream().filter(r -> r.stands() && RulingWord.of(r.ruling().decision()).teaches()).count());
    Page.show(ctx, "drill/rulings", model);
  }

  private OpenRow row(OpenAnswer o) {
    return new OpenRow(
        o.part().value(),
        names.term(o.part()),
        o.phrase(),
        o.typed().get(0),
        o.typed().stream().skip(1).limit(NAMED).collect(Collectors.joining(", ")),
        o.times(),
        peopleOf(o),
        o.disputed(),
        calendar.moment(o.latestAt()));
  }

  private String peopleOf(OpenAnswer o) {
    String first = o.people().stream().limit(NAMED).map(this::nameOf).collect(Collectors.joining(", "));
    int more = o.people().size() - NAMED;
    return more > 0 ? first + " and " + more + " more" : first;
  }

  private String nameOf(UUID person) {
    return people.person(person).map(Person::fullName).orElse("someone");
  }

  private MadeRow row(RuledAnswer r, int regraded) {
    String decision =
        switch (RulingWord.of(r.ruling().decision())) {
          case TERM -> "a trade term";
          case COLLOQUIAL -> "an everyday name";
          case MISSPELLING -> "a misspelling of its name";
          case ONCE -> "accepted once";
          case NOT_ACCEPTED -> "not accepted";
        };
    return new MadeRow(
        r.id(),
        r.typed(),
        names.term(r.ruling().part()),
        decision,
        RulingWord.reason(r.ruling().decision()),
        nameOf(r.ruledBy()),
        calendar.moment(r.ruledAt()),
        regraded,
        r.undoneAt().map(calendar::moment).orElse(""));
  }

  private void showForm(Context ctx) {
    OpenAnswer open =
        find(Visit.queryText(ctx, "part"), Visit.queryText(ctx, "phrase"))
            .orElseThrow(() -> Refusal.notFound("That answer does not await a ruling any more."));
    showForm(ctx, open, "", "", "");
  }

  private Optional<OpenAnswer> find(Optional<String> part, Optional<String> phrase) {
    return rulings.open().stream()
        .filter(o -> part.filter(o.part().value()::equals).isPresent())
        .filter(o -> phrase.filter(o.phrase()::equals).isPresent())
        .findFirst();
  }

  private void showForm(Context ctx, OpenAnswer open, String problem, String decision, String reason) {
    OpenRow row = row(open);
    Map<String, Object> model = new HashMap<>();
    model.put("typed", row.typed());
    model.put("phrase", row.phrase());
    model.put("partId", row.partId());
    model.put("term", row.part());
    model.put("heading", names.heading(open.part()));
    model.put("definition", names.definition(open.part()));
    model.put("others", names.others(open.part()));
    model.put("times", row.times());
    model.put("people", row.people());
    model.put("svg", pictures.of(open.part()).svg());
    model.put("choices", CHOICES);
    model.put("problem", problem);
    model.put("decision", decision);
    model.put("reason", reason);
    model.put("longestReason", RuledAnswer.LONGEST_REASON);
    Page.show(ctx, "drill/ruling", model);
  }

  private void rule(Context ctx) {
    OpenAnswer open =
        find(Visit.formText(ctx, "part"), Visit.formText(ctx, "phrase"))
            .orElseThrow(() -> Refusal.conflict("That answer has been ruled on already. The ruling is in the list."));
    String word = Visit.formText(ctx, "decision").orElse("");
    String reason = Visit.formText(ctx, "reason").orElse("");
    Optional<RulingWord> decision = RulingWord.find(word);
    String problem = decision.map(d -> problem(open, d, reason)).orElse("Choose what you decide.");
    if (!problem.isEmpty()) {
      ctx.status(400);
      showForm(ctx, open, problem, word, reason);
      return;
    }
    int regraded =
        rulings
            .rule(open, decision.orElseThrow().decision(reason), Visit.person(ctx))
            .orElseThrow(
                () -> Refusal.conflict("Somebody has ruled on that or on a like answer just now. See the list."));
    Page.goTo(ctx, "/class/rulings", "Ruled. " + answers(regraded) + " regraded; whoever is affected is told.");
  }

  private String problem(OpenAnswer open, RulingWord decision, String reason) {
    if (decision == RulingWord.NOT_ACCEPTED && reason.isEmpty()) {
      return "Say why it is not accepted: those who said it read the reason.";
    }
    if (reason.length() > RuledAnswer.LONGEST_REASON) {
      return "A reason has at most " + RuledAnswer.LONGEST_REASON + " characters.";
    }
    return rulings
        .conflict(new Ruling(open.phrase(), open.part(), decision.decision(reason)))
        .map(conflict -> conflict + " Nothing was changed.")
        .orElse("");
  }

  private static String answers(int n) {
    return n == 1 ? "One answer" : n + " answers";
  }

  private void undo(Context ctx) {
    RuledAnswer ruling =
        store.ruling(Visit.id(ctx, "id")).orElseThrow(() -> Refusal.notFound("There is no such ruling."));
    int regraded =
        rulings
            .undo(ruling, Visit.person(ctx))
            .orElseThrow(() -> Refusal.conflict("This ruling has been taken back already."));
    Page.goTo(ctx, "/class/rulings", "Taken back. " + answers(regraded) + " regraded.");
  }

  private void patch(Context ctx) {
    ctx.contentType("text/x-diff; charset=utf-8");
    ctx.header("Content-Disposition", "attachment; filename=\"glossary.patch\"");
    ctx.result(rulings.patch());
  }
}
