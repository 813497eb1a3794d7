package ferrule.bench;

import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.procedure.Procedure;
import ferrule.web.Access;
import ferrule.web.NavEntry;
import ferrule.web.Page;
import ferrule.web.Pages;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;

/** Who may sign what: read by instructors, set by the coordinator. */
public final class AuthorityPages implements Pages {

  private final Bench bench;

  /** The pages. */
  public AuthorityPages(Bench bench) {
    this.bench = bench;
  }

  @Override
  public List<NavEntry> nav() {
    return List.of(NavEntry.of("Who signs", "/bench/authority", 45, Access.COORDINATOR));
  }

  @Override
  public void routes(RoutesConfig routes) {
    routes.get("/bench/authority", this::show, Access.INSTRUCTOR, Access.COORDINATOR);
    routes.post("/bench/authority/{id}", this::set, Access.COORDINATOR);
  }

  /** An area and how far an instructor's authority reaches in it: {@code none}, {@code basic} or {@code advanced}. */
  record AreaLine(String word, String title, String upTo) {}

  /** An instructor. */
  record InstructorLine(UUID id, String name, boolean given, List<AreaLine> areas) {}

  /** The tasks of an area by level, so that the reader knows what the words mean. */
  record Meaning(String title, String basic, String advanced) {}

  private void show(Context ctx) {
    List<InstructorLine> instructors =
        bench.people().inRole(Role.INSTRUCTOR).stream().filter(Person::isPresent).map(this::line).toList();
    Page.show(
        ctx, "bench/authority",
        Map.of(
            "instructors", instructors,
            "meanings", Arrays.stream(Procedure.Area.values()).map(this::meaning).toList(),
            "maySet", Visit.person(ctx).role() == Role.COORDINATOR));
  }

  private InstructorLine line(Person instructor) {
    Authority authority = bench.authorities().of(instructor.id());
    List<AreaLine> areas =
        Arrays.stream(Procedure.Area.values())
            .map(
                area -> new AreaLine(
                    area.word(), area.title(),
                    authority.upTo().containsKey(area) ? authority.upTo().get(area).word() : "none"))
            .toList();
    return new InstructorLine(
        instructor.id(), instructor.fullName(), bench.authorities().given(instructor.id()).isPresent(), areas);
  }

  private Meaning meaning(Procedure.Area area) {
    return new Meaning(area.title(), titles(area, Task.Level.BASIC), titles(area, Task.Level.ADVANCED));
  }

  private String titles(Procedure.Area area, Task.Level level) {
    return String.join(
        "; ",
        bench.tasks().all().stream().filter(t -> t.area() == area && t.level() == level).map(Task::title).toList());
  }

  private void set(Context ctx) {
    Person instructor = bench.people().person(Visit.id(ctx, "id"))
        .filter(p -> p.role() == Role.INSTRUCTOR)
        .orElseThrow(() -> Refusal.notFound("There is no such instructor."));
    Map<Procedure.Area, Task.Level> upTo = new EnumMap<>(Procedure.Area.class);
    for (Procedure.Area area : Procedure.Area.values()) {
      String word = Visit.formText(ctx, area.word()).orElse("none");
      if (!word.equals("none")) {
        upTo.put(area, level(word));
      }
    }
    bench.authorities().give(instructor.id(), new Authority(upTo), Visit.person(ctx).id());
    Page.goTo(ctx, "/bench/authority", "From now on " + instructor.fullName() + " signs what you chose.");
  }

  private static Task.Level level(String word) {
    try {
      return Task.Level.parse(word);
    } catch (IllegalArgumentException e) {
      throw Refusal.invalid("Choose nothing, basic work or all work for each area.");
    }
  }
}
