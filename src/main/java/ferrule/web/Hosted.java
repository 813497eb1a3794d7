package ferrule.web;

import ferrule.people.PeopleStore;
import ferrule.site.Site;
import java.util.List;

/**
 * One site as the server shows it.
 *
 * @param site which it is
 * @param people those who sign in there
 * @param pages its features
 */
public record Hosted(Site site, PeopleStore people, List<Pages> pages) {

  /** Copies the list. */
  public Hosted {
    pages = List.copyOf(pages);
  }
}
