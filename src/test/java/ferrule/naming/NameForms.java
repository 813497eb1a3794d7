package ferrule.naming;

import ferrule.glossary.Concept;
import ferrule.glossary.Facet;
import ferrule.glossary.Glossary;
import ferrule.glossary.Term;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * Every way of saying a part's name that a glossary gives: its own terms and its terms with the noun of its kind in each of
 * the kind's words, each facet word in each of its forms, and the qualifiers in every order that English allows.
 */
final class NameForms {

  /** Facets whose words are names of things, so that they can stand after "of the"; the rest are adjectives. */
  private static final Set<String> OF_THINGS = Set.of("valve", "slide", "side");

  private final Glossary glossary;

  NameForms(Glossary glossary) {
    this.glossary = glossary;
  }

  /** A run of qualifier words that stay together, such as "third slide". */
  record Group(String words, Set<String> facets, boolean thing) {}

  /** A term taken apart from the left: qualifiers, then the noun with what else stands before it. */
  record Form(List<Group> groups, String noun) {
    String text() {
      List<String> words = new ArrayList<>(groups.stream().map(Group::words).toList());
      words.add(noun);
      return String.join(" ", words);
    }

    Form without(int group) {
      List<Group> fewer = new ArrayList<>(groups);
      fewer.remove(group);
      return new Form(fewer, noun);
    }

    Form with(int group, Group other) {
      List<Group> changed = new ArrayList<>(groups);
      changed.set(group, other);
      return new Form(changed, noun);
    }
  }

  /** The part's terms with their roles: its own, and its own with another term of its kind. */
  List<Term> terms(Concept part) {
    List<Term> terms = new ArrayList<>(part.terms());
    for (Concept kind : glossary.kindsOf(part.id())) {
      Optional<String> noun =
          kind.terms().stream()
              .map(Term::text)
              .filter(t -> part.term().endsWith(" " + t))
              .max(Comparator.comparingInt(String::length));
      if (noun.isPresent()) {
        String stem = part.term().substring(0, part.term().length() - noun.get().length() - 1);
        for (Term t : kind.terms()) {
          if (!repeats(stem, t.text())) {
            terms.add(new Term(stem + " " + t.text(), t.role(), t.sense()));
          }
        }
        break;
      }
    }
    return terms.stream().distinct().toList();
  }

  private static boolean repeats(String stem, String noun) {
    Set<String> words = Set.copyOf(Wording.of(stem).words());
    return Wording.of(noun).words().stream().anyMatch(words::contains);
  }

  /** The preferred term taken apart. */
  Form preferred(Concept part) {
    return parse(part, part.term());
  }

  Form parse(Concept part, String term) {
    List<Group> groups = new ArrayList<>();
    String rest = term;
    boolean found = true;
    while (found) {
      found = false;
      for (Map.Entry<String, String> qualifier : part.qualifiers().entrySet()) {
        boolean ofBrace = qualifier.getKey().equals("side") && rest.contains(" to ");
        if (ofBrace) {
          continue; // "leadpipe to bell brace": the first word is of the brace
        }
        Optional<String> phrase = startingPhrase(qualifier.getKey(), qualifier.getValue(), rest);
        if (phrase.isPresent() && namesSomething(rest.substring(phrase.get().length()).strip())) {
          String facet = qualifier.getKey();
          add(groups, new Group(phrase.get(), Set.of(facet), OF_THINGS.contains(facet)));
          rest = rest.substring(phrase.get().length()).strip();
          found = true;
          break;
        }
      }
      if (!groups.isEmpty() && rest.startsWith("valve ")) {
        Group last = groups.remove(groups.size() - 1);
        groups.add(new Group(last.words() + " valve", last.facets(), last.thing()));
        rest = rest.substring("valve ".length());
        found = true;
      }
    }
    return new Form(groups, rest);
  }

  /** Whether a noun is left: of "main tuning slide assembly", the slide is the noun. */
  private static boolean namesSomething(String rest) {
    return !rest.isEmpty() && !rest.equals("assembly");
  }

  private static void add(List<Group> groups, Group group) {
    int last = groups.size() - 1;
    if (group.facets().contains("slide") && last >= 0 && groups.get(last).facets().equals(Set.of("valve"))) {
      groups.set(last, new Group(groups.get(last).words() + " " + group.words(), Set.of("valve", "slide"), true));
    } else {
      groups.add(group);
    }
  }

  private Optional<String> startingPhrase(String facet, String value, String text) {
    return glossary.facet(facet).flatMap(f -> f.value(value)).stream()
        .flatMap(v -> phrases(v).stream())
        .filter(p -> (text + " ").startsWith(p + " "))
        .max(Comparator.comparingInt(String::length));
  }

  static List<String> phrases(Facet.Value value) {
    List<String> phrases = new ArrayList<>();
    phrases.add(value.term());
    phrases.addAll(value.also());
    return phrases;
  }

  /** Every order of a form's words that English allows, the form's own first. */
  Set<String> orders(Form form) {
    Set<String> texts = new LinkedHashSet<>();
    for (List<Group> order : permutations(form.groups())) {
      texts.add(new Form(order, form.noun()).text());
      texts.add(String.join(", ", append(List.of(form.noun()), order)));
    }
    for (int i = 0; i < form.groups().size(); i++) {
      if (form.groups().get(i).thing()) {
        String thing = form.groups().get(i).words();
        for (List<Group> order : permutations(form.without(i).groups())) {
          String rest = new Form(order, form.noun()).text();
          texts.add(rest + " of the " + thing);
          texts.add(rest + " on " + thing);
          texts.add(thing + "'s " + rest);
        }
      }
    }
    return texts;
  }

  private static List<String> append(List<String> first, List<Group> groups) {
    List<String> all = new ArrayList<>(first);
    groups.forEach(g -> all.add(g.words()));
    return all;
  }

  private static <T> List<List<T>> permutations(List<T> items) {
    if (items.isEmpty()) {
      return List.of(List.of());
    }
    List<List<T>> all = new ArrayList<>();
    for (int i = 0; i < items.size(); i++) {
      List<T> rest = new ArrayList<>(items);
      T first = rest.remove(i);
      for (List<T> order : permutations(rest)) {
        List<T> whole = new ArrayList<>(List.of(first));
        whole.addAll(order);
        all.add(whole);
      }
    }
    return all;
  }

  /** The form with one facet word at a time in each of its other forms. */
  List<Form> wordings(Concept part, Form form) {
    List<Form> all = new ArrayList<>();
    all.add(form);
    for (int i = 0; i < form.groups().size(); i++) {
      Group group = form.groups().get(i);
      for (String facet : group.facets()) {
        Facet.Value value = glossary.facet(facet).orElseThrow().value(part.qualifiers().get(facet)).orElseThrow();
        Optional<String> said = startingPhrase(facet, value.id(), wordsFrom(group.words(), facet));
        for (String other : phrases(value)) {
          if (said.isPresent()) {
            all.add(form.with(i, new Group(group.words().replace(said.get(), other), group.facets(), group.thing())));
          }
        }
      }
    }
    return all;
  }

  private static String wordsFrom(String words, String facet) {
    boolean slideAfterNumber = facet.equals("slide") && words.contains(" ");
    return slideAfterNumber && !words.startsWith("main") && !words.startsWith("tuning")
        ? words.substring(words.indexOf(' ') + 1)
        : words;
  }

  /** The words by which a group answers a facet's question. */
  String saidIn(Group group, String facet, Concept part) {
    Facet.Value value = glossary.facet(facet).orElseThrow().value(part.qualifiers().get(facet)).orElseThrow();
    return startingPhrase(facet, value.id(), wordsFrom(group.words(), facet))
        .orElseThrow(() -> new IllegalStateException(group + " does not say " + facet));
  }

  /** The form without the words that answer one facet's question. */
  Form without(Form form, int place, String facet, Concept part) {
    Group group = form.groups().get(place);
    String words = (" " + group.words() + " ").replaceFirst(" " + saidIn(group, facet, part) + " ", " ").strip();
    boolean gone = words.isEmpty() || words.equals("valve");
    return gone ? form.without(place) : form.with(place, new Group(words, Set.of(), group.thing()));
  }

  /** The names of a brace, either way round, and as what it stands between. */
  Set<String> braceNames(Concept brace) {
    Set<String> names = new LinkedHashSet<>();
    if (brace.joins().size() == 2) {
      String place = brace.qualifiers().getOrDefault("place", "");
      String a = glossary.get(brace.joins().get(0)).term();
      String b = glossary.get(brace.joins().get(1)).term();
      String noun = brace.term().substring(brace.term().lastIndexOf(' ') + 1);
      for (String[] pair : new String[][] {{a, b}, {b, a}}) {
        names.add(place + " " + pair[0] + " to " + pair[1] + " " + noun);
        names.add(place + " " + pair[0] + "-" + pair[1] + " " + noun);
        names.add(place + " " + noun + " between " + pair[0] + " and " + pair[1]);
        names.add(place + " " + noun + " from the " + pair[0] + " to the " + pair[1]);
      }
    }
    return names;
  }

  /** Every name of a part with the term that it is a form of. */
  Map<String, Term> all(Concept part) {
    Map<String, Term> names = new LinkedHashMap<>();
    for (Term term : terms(part)) {
      for (Form form : wordings(part, parse(part, term.text()))) {
        orders(form).forEach(text -> names.putIfAbsent(text, term));
      }
    }
    braceNames(part).forEach(text -> names.putIfAbsent(text, part.terms().get(0)));
    return names;
  }
}
