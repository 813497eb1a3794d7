package ferrule.web;

import ferrule.people.SignedIn;
import io.javalin.http.Context;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * Shows pages in the common skeleton, and goes on to the next page after a form.
 *
 * <p>A template named {@code drill/list} is {@code templates/drill/list.peb}; it extends {@code layout.peb} and fills
 * its blocks. Beside its own model it sees {@code person}, {@code csrf}, {@code nav}, {@code path}, {@code demo},
 * {@code note} and {@code siteTitle}, which is empty as long as nobody named the programme.
 */
public final class Page {

  static final String FRAME = "frame";

  /** A place in one visitor's menu, and whether they are there. */
  public record Place(String label, String path, boolean here) {}

  /** What the skeleton needs to know of the installation. */
  record Frame(List<NavEntry> nav, boolean demo, Whereabouts where, List<Pages> pages) {

    /** Where a person starts: where a feature has something for them, else at the first place of their menu. */
    Optional<String> home(SignedIn visitor) {
      return pages.stream().flatMap(p -> p.home(visitor.person()).stream()).findFirst()
          .or(() -> navFor(this, visitor).stream().findFirst().map(NavEntry::path));
    }
  }

  private Page() {}

  /** Shows a template with its model. */
  public static void show(Context ctx, String template, Map<String, ?> model) {
    Frame frame = ctx.attribute(FRAME);
    Optional<SignedIn> visitor = Visit.signedIn(ctx);
    Map<String, Object> all = new HashMap<>(model);
    all.put("person", visitor.map(SignedIn::person).orElse(null));
    all.put("csrf", visitor.map(SignedIn::csrfToken).orElse(""));
    all.put("idle", visitor.map(SignedIn::opening).filter(o -> o.tablet().isPresent()).map(o -> o.idle().toSeconds()).orElse(0L));
    all.put("nav", visitor.map(v -> places(navFor(frame, v), ctx.path())).orElse(List.of()));
    all.put("path", ctx.path());
    all.put("demo", frame != null && frame.demo());
    all.put("note", takeNote(ctx));
    all.put("siteTitle", frame == null ? "" : frame.where().here().title());
    ctx.render(template + ".peb", all);
    ctx.contentType("text/html; charset=utf-8");
  }

  /** Shows a template that is the same for everybody and says nothing of the visitor. */
  public static void bare(Context ctx, String template, Map<String, ?> model) {
    ctx.render(template + ".peb", model);
    ctx.contentType("text/html; charset=utf-8");
  }

  static List<NavEntry> navFor(Frame frame, SignedIn visitor) {
    return frame.nav().stream()
        .filter(entry -> entry.who().stream().anyMatch(a -> a.admits(visitor.person().role())))
        .toList();
  }

  private static List<Place> places(List<NavEntry> nav, String path) {
    return nav.stream()
        .map(e -> new Place(e.label(), e.path(), path.equals(e.path()) || path.startsWith(e.path() + "/")))
        .toList();
  }

  /** Goes on to another page of ours after a form. */
  public static void goTo(Context ctx, String path) {
    ctx.redirect(path, io.javalin.http.HttpStatus.SEE_OTHER);
  }

  /** Goes on to another page, which says once what has been done, such as "Drill assigned to First year." */
  public static void goTo(Context ctx, String path, String note) {
    Gate gate = ctx.attribute(Gate.HERE);
    gate.keepNote(ctx, note);
    goTo(ctx, path);
  }

  private static String takeNote(Context ctx) {
    // a page that says that the database is away is shown before the gate
    return Optional.<Gate>ofNullable(ctx.attribute(Gate.HERE)).map(gate -> gate.takeNote(ctx)).orElse("");
  }
}
