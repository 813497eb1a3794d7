package ferrule.web;

import java.util.Set;

/**
 * A place in the menu.
 *
 * @param label a word of the trade
 * @param path where it leads
 * @param who the roles that see it
 * @param rank its place in the menu, the smallest first; the first that a person sees is their home
 */
public record NavEntry(String label, String path, Set<Access> who, int rank) {

  /** A place that these roles see. */
  public static NavEntry of(String label, String path, int rank, Access... who) {
    return new NavEntry(label, path, Set.of(who), rank);
  }
}
