package ferrule.report;

import static java.util.stream.Collectors.mapping;
import static java.util.stream.Collectors.partitioningBy;
import static java.util.stream.Collectors.toList;

import ferrule.drill.Assignment;
import ferrule.drill.DrillStore;
import ferrule.drill.ItemKind;
import ferrule.drill.PartNames;
import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.people.Cohort;
import ferrule.people.PeopleStore;
import ferrule.report.items.Advice;
import ferrule.report.items.Distractor;
import ferrule.report.table.TablePages;
import ferrule.web.Access;
import ferrule.web.Page;
import ferrule.web.Pages;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.time.Clock;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.UUID;

/** How good the questions of a cohort's drills were, for whoever sets the next ones. */
public final class QuestionPages implements Pages {

  private final DrillStore drills;
  private final PeopleStore people;
  private final Glossary glossary;
  private final Clock clock;
  private final KeptQuestions kept = new KeptQuestions();

  /** The pages, which name parts as this glossary does. */
  public QuestionPages(DrillStore drills, PeopleStore people, Glossary glossary, Clock clock) {
    this.drills = drills;
    this.people = people;
    this.glossary = glossary;
    this.clock = clock;
  }

  @Override
  public void routes(RoutesConfig routes) {
    Access[] staff = {Access.COORDINATOR, Access.INSTRUCTOR};
    routes.get("/cohorts/{id}/questions", this::show, staff);
    routes.get("/cohorts/{id}/questions/{part}", this::showPart, staff);
    TablePages.offer(
        routes, "/cohorts/{id}/questions/{part}/answers", ctx -> QuestionTables.ANSWERS.of(
            QuestionTables.answers(cohort(ctx), term(part(ctx)), answers(cohort(ctx), part(ctx))),
            cohort(ctx).title() + " " + term(part(ctx))), staff);
    TablePages.offer(
        routes, "/cohorts/{id}/questions", ctx -> QuestionTables.PARTS.of(
            QuestionTables.parts(cohort(ctx), questions(cohort(ctx)), glossary), cohort(ctx).title()), staff);
    TablePages.offer(
        routes, "/cohorts/{id}/ways-of-asking", ctx -> QuestionTables.WAYS.of(
            QuestionTables.ways(cohort(ctx), questions(cohort(ctx))), cohort(ctx).title()), staff);
    TablePages.offerPaper(
        routes, "/cohorts/{id}/questions",
        ctx -> QuestionTables.printout(cohort(ctx), questions(cohort(ctx)), glossary), clock, staff);
  }

  private AnswersToPart answers(Cohort cohort, ConceptId part) {
    List<UUID> set = drills.assignments().standingIn(List.of(cohort.id())).stream().map(Assignment::id).toList();
    return AnswersToPart.of(part, drills.firstAnswersAbout(part, set), drills.firstAnswers(set), new PartNames(glossary));
  }

  private ConceptId part(Context ctx) {
    return Optional.of(ctx.pathParam("part")).filter(ConceptId::isValid).map(ConceptId::of)
        .filter(id -> glossary.find(id).isPresent())
        .orElseThrow(() -> Refusal.notFound("There is no such part. Go back to the questions of the cohort."));
  }

  private String term(ConceptId part) {
    return new PartNames(glossary).term(part);
  }

  /** A way of asking about a part, with what was answered. */
  record WayView(String asks, int answers, List<AnswerView> rows) {}

  /** An answer as a row; a dash stands for what cannot be said. */
  record AnswerView(String answer, int chose, int could, String share, String rest, String correlation, String advice, String state) {}

  private void showPart(Context ctx) {
    Cohort cohort = cohort(ctx);
    ConceptId part = part(ctx);
    String path = "/cohorts/" + cohort.id() + "/questions/" + part + "/answers";
    Page.show(
        ctx,
        "report/question",
        Map.of(
            "cohort", cohort,
            "part", part.value(),
            "term", PartNames.capital(term(part)),
            "files", TablePages.files(path, ""),
            "fewest", Advice.ANSWERS_FOR_DIFFICULTY,
            "fewestToTell", Advice.ANSWERS_FOR_DISCRIMINATION,
            "ways", answers(cohort, part).ways().entrySet().stream().map(QuestionPages::view).toList()));
  }

  private static WayView view(Map.Entry<ItemKind, List<Distractor>> way) {
    return new WayView(
        way.getKey().title(), way.getValue().stream().mapToInt(Distractor::chosen).sum(),
        way.getValue().stream().map(QuestionPages::view).toList());
  }

  private static AnswerView view(Distractor d) {
    String state = switch (d.advice()) {
      case KEY, WORKS -> "good";
      case DRAWS_THE_BETTER -> "bad";
      case UNUSED -> "open";
      case TOO_FEW -> "";
    };
    return new AnswerView(
        d.answer(), d.chosen(), d.offered(), d.offered() >= Advice.ANSWERS_FOR_DIFFICULTY ? share(d.share()) : "–",
        d.rest().isPresent() ? share(d.rest().getAsDouble()) : "–", d.isEnough() ? figure(d.correlation(), "%+.2f") : "–",
        d.advice().sentence(), state);
  }

  /** A part as a row of the table; a dash stands for what cannot be said. */
  record Row(String id, String part, int asked, String right, String tells, String place, String advice, String state) {}

  /** A way of asking as a row. */
  record WayRow(String asks, int answers, String right) {}

  private Cohort cohort(Context ctx) {
    return people.cohort(Visit.id(ctx, "id"))
        .orElseThrow(() -> Refusal.notFound("There is no such cohort. Go back to the list of cohorts."));
  }

  private Questions questions(Cohort cohort) {
    List<UUID> assignments = drills.assignments().standingIn(List.of(cohort.id())).stream().map(Assignment::id).toList();
    return kept.of(drills.firstAnswers(assignments));
  }

  private void show(Context ctx) {
    Cohort cohort = cohort(ctx);
    Questions questions = questions(cohort);
    String path = "/cohorts/" + cohort.id();
    Map<Boolean, List<Row>> rows =
        questions.lines().stream()
            .collect(partitioningBy(l -> l.advice() == Advice.TOO_FEW, mapping(this::row, toList())));
    Map<String, Object> model = new HashMap<>();
    model.put("partFiles", TablePages.files(path + "/questions", "").withPaper(path + "/questions", ""));
    model.put("wayFiles", TablePages.files(path + "/ways-of-asking", ""));
    model.put("cohort", cohort);
    model.put("persons", questions.persons());
    model.put("reliability", QuestionTables.reliability(questions));
    model.put("rows", rows.get(false));
    model.put("few", rows.get(true));
    model.put("ways", questions.ways().stream().map(QuestionPages::row).toList());
    model.put("fewest", Advice.ANSWERS_FOR_DIFFICULTY);
    model.put("fewestToTell", Advice.ANSWERS_FOR_DISCRIMINATION);
    model.put("placed", questions.lines().stream().anyMatch(line -> line.place().isPresent()));
    Page.show(ctx, "report/questions", model);
  }

  private static WayRow row(Questions.Way way) {
    return new WayRow(way.kind().title(), way.answers(), share(way.right()));
  }

  private static String share(double right) {
    return Math.round(100 * right) + " %";
  }

  private Row row(Questions.Line line) {
    Advice advice = line.advice();
    boolean enough = line.figures().asked() >= Advice.ANSWERS_FOR_DISCRIMINATION;
    return new Row(
        line.part().value(),
        glossary.find(line.part()).map(Concept::term).orElseGet(() -> line.part().value().replace('-', ' ')),
        line.figures().asked(),
        share(line.figures().difficulty()),
        enough ? figure(line.figures().discrimination(), "%+.2f") : "–",
        line.place().map(p -> String.format(Locale.ROOT, "%+.1f ± %.1f", p.difficulty(), p.standardError())).orElse("–"),
        advice.sentence(),
        state(advice));
  }

  private static String figure(OptionalDouble value, String format) {
    return value.isPresent() ? String.format(Locale.ROOT, format, value.getAsDouble()) : "–";
  }

  private static String state(Advice advice) {
    return switch (advice) {
      case SOUND -> "good";
      case MISLEADS, HARD -> "bad";
      case EASY, TELLS_LITTLE -> "open";
      case TOO_FEW -> "";
    };
  }
}
