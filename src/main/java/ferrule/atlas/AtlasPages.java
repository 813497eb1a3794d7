package ferrule.atlas;

import ferrule.drawing.Picture;
import ferrule.drawing.PictureRequest;
import ferrule.drawing.Studio;
import ferrule.drawing.View;
import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.glossary.Level;
import ferrule.glossary.TermRole;
import ferrule.glossary.Variant;
import ferrule.naming.TermReader;
import ferrule.web.Access;
import ferrule.web.NavEntry;
import ferrule.web.Page;
import ferrule.web.Pages;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** The pages on which people walk the instrument and look parts up. */
public final class AtlasPages implements Pages {

  private static final String HOME = "/instrument";
  private static final int LONGEST_SEARCH = 200;
  private static final int MOST_FOUND = 60;

  private final Glossary glossary;
  private final TermReader reader;
  private final Studio studio;
  private final Figures figures;
  private final String edition;
  private final Mentions mentions;

  /**
   * The pages of one instrument.
   *
   * @param edition the edition of the curriculum; drawings with this edition in their address never change
   * @param mentions where else a part comes up
   */
  public AtlasPages(Glossary glossary, TermReader reader, Studio studio, String edition, Mentions mentions) {
    this.glossary = glossary;
    this.reader = reader;
    this.studio = studio;
    this.figures = new Figures(studio, glossary);
    this.edition = edition;
    this.mentions = mentions;
  }

  @Override
  public List<NavEntry> nav() {
    return List.of(NavEntry.of("Instrument", HOME, 40, Access.APPRENTICE, Access.INSTRUCTOR, Access.COORDINATOR));
  }

  @Override
  public void routes(RoutesConfig routes) {
    routes.get(HOME, this::whole, Access.SIGNED_IN);
    routes.get(HOME + "/find", this::find, Access.SIGNED_IN);
    routes.get(HOME + "/plate/{view}", this::plate, Access.SIGNED_IN);
    routes.get(HOME + "/{part}", this::one, Access.SIGNED_IN);
  }

  /** A link to a page, with the picture of what it is about if there is one. */
  public record Card(String term, String path, String plate, String note) {}

  private void whole(Context ctx) {
    show(ctx, root());
  }

  private void one(Context ctx) {
    show(ctx, concept(ctx.pathParam("part")));
  }

  private Concept root() {
    return glossary.assemblies().stream().filter(c -> c.partOf().isEmpty()).findFirst().orElseThrow();
  }

  private Concept concept(String id) {
    return Optional.of(id)
        .filter(ConceptId::isValid)
        .map(ConceptId::of)
        .flatMap(glossary::find)
        .orElseThrow(() -> Refusal.notFound("No part has this address. Look for it by its name."));
  }

  private static Wish wish(Context ctx) {
    return Wish.of(
        Visit.queryText(ctx, Wish.VIEW), Visit.queryText(ctx, Wish.MODEL), Visit.queryText(ctx, Wish.LABELS));
  }

  private void show(Context ctx, Concept concept) {
    Wish wish = wish(ctx);
    Entry entry = Entry.of(glossary, concept);
    boolean isPart = concept.level() == Level.PART || concept.level() == Level.REGION;
    Optional<Figure> figure = figures.of(concept, wish);
    Map<String, Object> model = new HashMap<>();
    model.put("entry", entry);
    model.put("figure", figure.orElse(null));
    model.put("isElsewhere", figure.filter(f -> !f.subject().equals(concept)).isPresent());
    model.put("model", wish.onlyModel().on(""));
    model.put("trail", trail(entry));
    model.put("kinds", entry.kinds().stream().map(KindRow::of).toList());
    model.put("relations", relations(entry, figures.variantsFor(concept, wish)));
    model.put("facts", Fact.of(studio.instrument(), concept));
    model.put("mentions", mentions.of(concept.id()));
    model.put("typed", "");
    model.put("cards", isPart ? List.of() : cards(entry, wish));
    model.put("cardsTitle", concept.level() == Level.KIND ? "All of this kind" : "Its assemblies");
    List<Concept> walk = walk(entry);
    int at = walk.indexOf(concept);
    model.put("before", at > 0 ? walk.get(at - 1) : null);
    model.put("after", at >= 0 && at < walk.size() - 1 ? walk.get(at + 1) : null);
    Page.show(ctx, "atlas/page", model);
  }

  /** The wholes that a concept belongs to, the instrument first. */
  private static List<Concept> trail(Entry entry) {
    List<Concept> trail = new ArrayList<>(entry.wholes());
    Collections.reverse(trail);
    return trail;
  }

  /** What is walked with this concept: the assemblies one by one, and in an assembly its parts. */
  private List<Concept> walk(Entry entry) {
    return switch (entry.concept().level()) {
      case ASSEMBLY -> glossary.assemblies();
      case KIND -> List.of();
      case PART, REGION -> entry.wholes().stream()
          .findFirst()
          .map(whole -> glossary.piecesOf(whole.id()).stream().filter(c -> c.level() != Level.ASSEMBLY).toList())
          .orElse(List.of());
    };
  }

  /** A kind with its other terms, which serve its parts too. */
  public record KindRow(ConceptId id, String term, List<String> alsoCalled) {

    static KindRow of(Concept kind) {
      return new KindRow(kind.id(), kind.term(), kind.termsIn(TermRole.ALTERNATIVE));
    }
  }

  /** Another part, and the model that has it if the one at hand has not. */
  public record Other(ConceptId id, String term, String note) {}

  /** What a part has to do with others, in a few words, and those others. */
  public record Relation(String title, List<Other> others) {}

  private Relation relation(String title, List<Concept> others, Set<String> variants) {
    return new Relation(
        title,
        others.stream()
            .map(c -> new Other(c.id(), c.term(), glossary.occursIn(c.id(), variants) ? "" : foundOn(c)))
            .sorted(Comparator.comparing(other -> !other.note().isEmpty()))
            .toList());
  }

  private String foundOn(Concept concept) {
    return glossary.variants().stream()
        .filter(v -> concept.variants().contains(v.id()))
        .map(Variant::title)
        .collect(Collectors.joining(", "));
  }

  private List<Relation> relations(Entry entry, Set<String> variants) {
    boolean hasCards = entry.concept().level() == Level.ASSEMBLY;
    return Stream.of(
            relation("Belongs to", entry.wholes().stream().limit(1).toList(), variants),
            relation("Has", hasCards ? List.of() : entry.pieces(), variants),
            relation("Joined to", entry.connects(), variants),
            relation("Holds together", entry.joins(), variants),
            relation("Held by", entry.joinedBy(), variants),
            relation("Carries", entry.carries(), variants),
            relation("Mounted on", entry.carriedBy(), variants))
        .filter(relation -> !relation.others().isEmpty())
        .toList();
  }

  private List<Card> cards(Entry entry, Wish wish) {
    List<Concept> shown = entry.concept().level() == Level.KIND ? entry.ofKind() : entry.pieces();
    return shown.stream()
        .filter(c -> entry.concept().level() == Level.KIND || c.level() == Level.ASSEMBLY)
        .map(c -> card(c, wish))
        .toList();
  }

  private Card card(Concept concept, Wish wish) {
    String plate =
        figures
            .bestView(concept)
            .map(view -> wish.onlyModel().on(HOME + "/plate/" + view.id()))
            .map(path -> path + (path.contains("?") ? "&" : "?") + "part=" + concept.id() + "&edition=" + edition)
            .orElse("");
    return new Card(concept.term(), wish.onlyModel().on(Figures.path(concept)), plate, concept.definition());
  }

  private void find(Context ctx) {
    String typed = Visit.queryText(ctx, "name").orElse("");
    if (typed.length() > LONGEST_SEARCH) {
      throw Refusal.invalid("A name has at most " + LONGEST_SEARCH + " letters. Type the name alone.");
    }
    Lookup lookup = Lookup.of(reader, typed);
    if (lookup.isClear()) {
      Page.goTo(ctx, Figures.path(lookup.parts().get(0)));
      return;
    }
    List<Card> cards = lookup.parts().stream().limit(MOST_FOUND).map(c -> card(c, wish(ctx))).toList();
    Page.show(
        ctx,
        "atlas/found",
        Map.of("typed", typed, "sentence", lookup.sentence(), "cards", cards, "model", wish(ctx).onlyModel().on("")));
  }

  /** A view as a picture of its own, with one part lit; its address holds the edition, so it may be kept for good. */
  private void plate(Context ctx) {
    View view =
        studio.views().stream()
            .filter(v -> v.id().equals(ctx.pathParam("view")))
            .findFirst()
            .orElseThrow(() -> Refusal.notFound("There is no such drawing."));
    Concept part = concept(Visit.queryText(ctx, "part").orElse(root().id().value()));
    Picture picture = studio.picture(figures.plate(view, part, wish(ctx)));
    if (edition.equals(ctx.queryParam("edition"))) {
      ctx.header("Cache-Control", "private, max-age=31536000, immutable");
    }
    ctx.contentType("image/svg+xml").result(picture.svg());
  }
}
