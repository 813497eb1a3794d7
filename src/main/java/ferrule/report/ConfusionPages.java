package ferrule.report;

import ferrule.competency.AsOf;
import ferrule.competency.CompetencyPages;
import ferrule.competency.Desk;
import ferrule.drill.Assignment;
import ferrule.drill.AssignmentStore;
import ferrule.drill.Conditions;
import ferrule.drill.ConfusionStore;
import ferrule.drill.ItemKind;
import ferrule.drill.PartNames;
import ferrule.drill.Pictures;
import ferrule.drill.Plan;
import ferrule.glossary.ConceptId;
import ferrule.people.Cohort;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.report.confusion.Confusion;
import ferrule.report.table.TablePages;
import ferrule.web.Access;
import ferrule.web.Page;
import ferrule.web.Pages;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.time.LocalDate;
import java.util.Collection;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Stream;

/** What a class mixes up: as a matrix, on the drawing, and as a drill that teaches it again. */
public final class ConfusionPages implements Pages {

  private static final int TO_TEACH = 5;
  private static final int LINES = 12;
  private static final int DAYS = 7;
  private static final Set<ItemKind> KINDS =
      new LinkedHashSet<>(List.of(ItemKind.NAME, ItemKind.FIND, ItemKind.LOOK_ALIKES));

  private final Desk desk;
  private final ConfusionStore store;
  private final AssignmentStore assignments;
  private final Pictures pictures;
  private final PartNames names;

  /** The pages. */
  public ConfusionPages(
      Desk desk, ConfusionStore store, AssignmentStore assignments, Pictures pictures, PartNames names) {
    this.desk = desk;
    this.store = store;
    this.assignments = assignments;
    this.pictures = pictures;
    this.names = names;
  }

  @Override
  public void routes(RoutesConfig routes) {
    Access[] staff = {Access.COORDINATOR, Access.INSTRUCTOR};
    routes.get("/cohorts/{id}/confusion", this::show, staff);
    routes.post("/cohorts/{id}/confusion", this::teachAgain, Access.INSTRUCTOR);
    TablePages.offer(routes, "/cohorts/{id}/confusion", ctx -> {
      Cohort cohort = cohort(ctx);
      return ConfusionTables.CELLS.of(
          ConfusionTables.cells(cohort, confusion(cohort, asOf(ctx)), names), cohort.title() + " " + asOf(ctx).day());
    }, staff);
    TablePages.offer(routes, "/cohorts/{id}/confusion-pairs", ctx -> {
      Cohort cohort = cohort(ctx);
      return ConfusionTables.PAIRS.of(
          ConfusionTables.pairs(cohort, confusion(cohort, asOf(ctx)), names), cohort.title() + " " + asOf(ctx).day());
    }, staff);
    TablePages.offerPaper(routes, "/cohorts/{id}/confusion", ctx -> {
      Cohort cohort = cohort(ctx);
      return ConfusionTables.printout(cohort, asOf(ctx).inWords(), confusion(cohort, asOf(ctx)), names);
    }, desk.clock(), staff);
  }

  private Cohort cohort(Context ctx) {
    return desk.people().cohort(Visit.id(ctx, "id"))
        .orElseThrow(() -> Refusal.notFound("There is no such cohort. Go back to the list of cohorts."));
  }

  private AsOf asOf(Context ctx) {
    return CompetencyPages.asOf(ctx, desk);
  }

  /** What those who are in a cohort took for what, by a moment. */
  Confusion confusion(Cohort cohort, AsOf asOf) {
    List<UUID> people = desk.people().memberships(cohort.id()).stream()
        .filter(m -> m.role() == Role.APPRENTICE && m.holdsOn(asOf.day())).map(m -> m.person()).toList();
    return Confusion.of(store.mixUps(people, asOf.instant()), store.answers(people, asOf.instant()));
  }

  // -- the page

  /** A line of the matrix. */
  record Line(String term, List<Field> fields) {}

  /**
   * A field of the matrix.
   *
   * @param text a share, or counts where they are small; empty for nothing
   * @param of the number of answers that a share is of
   * @param step how dark it is, from 0 to 4
   * @param own whether it is the part itself
   * @param small whether the numbers are small
   */
  record Field(String text, int of, int step, boolean own, boolean small, String says) {}

  /** A pair to teach again, and how it was mixed up, in words. */
  record PairView(String value, String first, String second, String says, String firstSvg, String secondSvg) {}

  private void show(Context ctx) {
    Cohort cohort = cohort(ctx);
    AsOf asOf = asOf(ctx);
    Confusion confusion = confusion(cohort, asOf);
    List<ConceptId> parts = confusion.parts(LINES);
    double most = parts.stream().flatMap(a -> parts.stream().flatMap(b -> confusion.cell(a, b).stream()))
        .filter(Confusion.Cell::isEnough).mapToDouble(Confusion.Cell::share).max().orElse(1);
    List<Confusion.Pair> pairs = confusion.toTeachAgain(TO_TEACH);
    String query = TablePages.query(ctx);
    String path = "/cohorts/" + cohort.id();
    Map<String, Object> model = new HashMap<>();
    model.put("cohort", cohort);
    model.put("asOf", asOf);
    model.put("answers", confusion.answers().values().stream().mapToInt(n -> n).sum());
    model.put("mixUps", confusion.cells().stream().mapToInt(Confusion.Cell::times).sum());
    model.put("headings", parts.stream().map(names::term).toList());
    model.put("lines", parts.stream().map(p -> line(confusion, p, parts, most)).toList());
    model.put("cells", ConfusionTables.cells(cohort, confusion, names));
    model.put("pairs", pairs.stream().map(this::view).toList());
    model.put("painted", painted(confusion));
    model.put("enough", Confusion.ENOUGH);
    model.put("canSet", Visit.person(ctx).role() == Role.INSTRUCTOR && !asOf.past());
    model.put("cellFiles", TablePages.files(path + "/confusion", query).withPaper(path + "/confusion", query));
    model.put("pairFiles", TablePages.files(path + "/confusion-pairs", query));
    Page.show(ctx, "report/confusion", model);
  }

  private Line line(Confusion confusion, ConceptId asked, List<ConceptId> parts, double most) {
    return new Line(names.heading(asked), parts.stream().map(p -> field(confusion, asked, p, most)).toList());
  }

  private Field field(Confusion confusion, ConceptId asked, ConceptId takenFor, double most) {
    boolean own = asked.equals(takenFor);
    Optional<Confusion.Cell> found = confusion.cell(asked, takenFor);
    if (found.isEmpty()) {
      return new Field("", 0, 0, own, false, "");
    }
    Confusion.Cell c = found.get();
    String says = names.heading(asked) + " taken for " + names.term(takenFor) + ": " + c.times() + " of " + c.answers()
        + " answers, by " + c.people() + (c.people() == 1 ? " apprentice" : " apprentices");
    return c.isEnough()
        ? new Field(
            OverTimeView.percent(c.share()), c.answers(), (int) Math.min(4, Math.floor(5 * c.share() / most)), own, false, says)
        : new Field(c.times() + " of " + c.answers(), c.answers(), 0, own, true, says);
  }

  private PairView view(Confusion.Pair p) {
    String says = p.isEnough()
        ? "taken for each other in " + OverTimeView.percent(p.share()) + " of " + p.answers() + " answers (95 % interval: "
            + OverTimeView.percent(p.low()) + " to " + OverTimeView.percent(p.high()) + ")"
        : "taken for each other in " + p.times() + " of " + p.answers() + " answers, too few for a share";
    return new PairView(
        p.first() + " " + p.second(), names.heading(p.first()), names.term(p.second()), says, pictures.of(p.first()).svg(),
        pictures.of(p.second()).svg());
  }

  /**
   * The instrument twice: what is asked, and what is named instead.
   *
   * @param askedStep what one step of the scale is at the left, in per cent
   * @param namedStep the same at the right
   */
  record Painted(String asked, int askedStep, String named, int namedStep) {}

  private Painted painted(Confusion confusion) {
    int asked = step(confusion.asked().values());
    int named = step(confusion.named().values());
    return new Painted(
        pictures.coloured(scaled(confusion.asked(), asked)).svg(), asked,
        pictures.coloured(scaled(confusion.named(), named)).svg(), named);
  }

  /** The width of each of five steps, in whole per cents, so that the largest share falls into the last one. */
  private static int step(Collection<Double> shares) {
    double most = shares.stream().mapToDouble(s -> s).max().orElse(0);
    return Math.max(1, (int) Math.ceil(100 * most / 5 - 1e-9));
  }

  private static Map<ConceptId, Double> scaled(Map<ConceptId, Double> shares, int step) {
    Map<ConceptId, Double> scaled = new HashMap<>();
    shares.forEach((part, share) -> scaled.put(part, Math.min(1, share * 100 / step / 5)));
    return scaled;
  }

  // -- teaching it again

  private void teachAgain(Context ctx) {
    Cohort cohort = cohort(ctx);
    List<ConceptId> parts = ctx.formParams("pair").stream()
        .flatMap(pair -> Stream.of(pair.split(" ", 2)))
        .filter(ConceptId::isValid).map(ConceptId::of)
        .filter(part -> pictures.pool().find(part).isPresent())
        .distinct().limit(Plan.LONGEST).toList();
    if (parts.isEmpty()) {
      throw Refusal.invalid("Pick at least one pair of parts. Nothing was set.");
    }
    LocalDate due = desk.today().plusDays(DAYS);
    Person by = Visit.person(ctx);
    Assignment drill = new Assignment(
        UUID.randomUUID(), cohort.id(), Set.of(), by.id(), title(parts), Plan.ofParts(parts, KINDS, true),
        Conditions.dueOn(due), desk.clock().instant(), Optional.empty());
    assignments.add(drill);
    Page.goTo(
        ctx, "/class/drills/" + drill.id(),
        "Set for " + cohort.title() + ", due on " + AsOf.inWords(due)
            + ". It can be changed and withdrawn until somebody starts it.");
  }

  private String title(List<ConceptId> parts) {
    String title = "Not to be mixed up: " + String.join(", ", parts.stream().map(names::term).toList());
    return title.length() <= Assignment.LONGEST_TITLE
        ? title : "Not to be mixed up: " + names.term(parts.get(0)) + " and " + (parts.size() - 1) + " more parts";
  }
}
