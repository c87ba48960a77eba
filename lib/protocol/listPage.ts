/** Couples on a page of the studio's list: as many as are read and checked within a second where nothing was kept of them. */
export const PAGE = 25;
